/** Tasks, exceptions and decisions of a fleet file: what they name, and whether they bear each other out. */
import { buildFleet } from "./build-fleet.ts";
import { checkMeaning, checkName, environmentsOf, oneMeaning, standardsOf } from "./check-names.ts";
import type { Findings } from "./findings.ts";
import { contradictions } from "./intervals.ts";
import type { FleetFile } from "./schema.ts";
import type { Path } from "./yaml-source.ts";

/** Tasks: parts that exist, one name each, exceptions that can apply. */
export function checkTasks(file: FleetFile, found: Findings): void {
  const names = new Map<string, Path>();
  const parts = file.parts.map(({ part }) => part);
  file.tasks.forEach((task, i) => {
    oneMeaning(names, task.task, ["tasks", i, "task"], found);
    checkName(task.part, ["tasks", i, "part"], "part", parts, found);
    const scopes = new Map<string, Path>();
    task.except?.forEach((exception, j) => {
      const path: Path = ["tasks", i, "except", j];
      if (exception.environment === undefined && exception.standard === undefined) {
        found.report(
          path,
          "an environment, a standard, or both",
          `for all, change ${found.place(["tasks", i, "interval"])}`,
        );
      }
      checkScope(file, exception, path, found);
      const scope = JSON.stringify([exception.environment, exception.standard]);
      const first = scopes.get(scope);
      if (first === undefined) scopes.set(scope, path);
      else found.report(path, "each environment and standard once", `there is ${found.place(first)} already`);
    });
  });
}

function checkScope(
  file: FleetFile,
  scope: { readonly environment?: string | undefined; readonly standard?: string | undefined },
  path: Path,
  found: Findings,
): void {
  checkMeaning(scope.environment, [...path, "environment"], "environments", environmentsOf(file), found);
  checkMeaning(scope.standard, [...path, "standard"], "standards", standardsOf(file), found);
}

type FileDecision = NonNullable<FleetFile["decisions"]>[number];

/** Whether two decisions put two intervals into force for the same scope on the same day. */
const clash = (a: FileDecision, b: FileDecision): boolean =>
  a.task === b.task &&
  a.environment === b.environment &&
  a.standard === b.standard &&
  a.on === b.on &&
  a.interval !== b.interval &&
  [a, b].every(({ outcome }) => outcome === "approved" || outcome === "trial");

/** Decisions: tasks and groups that exist, no contradiction on one day. */
export function checkDecisions(file: FleetFile, found: Findings): void {
  const tasks = file.tasks.map(({ task }) => task);
  file.decisions?.forEach((decision, i) => {
    checkName(decision.task, ["decisions", i, "task"], "task", tasks, found);
    checkScope(file, decision, ["decisions", i], found);
    if (decision.promised !== undefined && decision.outcome !== "approved" && decision.outcome !== "trial") {
      const hint = "a refused or deferred proposal promises nothing; take the key out";
      found.report(["decisions", i, "promised"], "an approval or a trial", hint);
    }
    const earlier = file.decisions!.slice(0, i).findIndex((other) => clash(other, decision));
    if (earlier >= 0) {
      const hint = `there is ${found.place(["decisions", earlier])} for the same, with another interval: which came last?`;
      found.report(["decisions", i], "one interval approved on one day", hint);
    }
  });
  const months = new Map<string, Path>();
  file.reviews?.forEach((month, i) => {
    oneMeaning(months, month, ["reviews", i], found);
  });
}

/** Approved decisions against the lines that say what is approved now; only sensible once all names are right. */
export function checkHistory(file: FleetFile, found: Findings): void {
  for (const { decision, task, exception, presentH } of contradictions(buildFleet(file))) {
    const line: Path =
      exception === null ? ["tasks", task, "interval"] : ["tasks", task, "except", exception, "interval"];
    const hint =
      `the last approved decision there, but what counts now is ${found.place(line)}: ` +
      "correct one of the two, or add the decision that came after";
    found.report(["decisions", decision, "interval"], `the ${presentH} h that is approved now`, hint);
  }
}
