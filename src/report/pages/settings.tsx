/** Every setting in force, as the fleet file and its defaults give them: the end of method.html. */
import type { VNode } from "preact";
import type { ExportSpec, Fleet, Task } from "../../fleet/fleet.ts";
import { Part } from "../layout.tsx";
import { counted, date, fixed, hours, listed, millimetres, share, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";

const NOT_GIVEN = "not given";

function Risks({ fleet }: { fleet: Fleet }): VNode {
  const { acceptable, evidence, intervalSteps, alerts, reviews } = fleet;
  const steps =
    intervalSteps.list === null
      ? `every ${hours(intervalSteps.stepH ?? 0)}`
      : `${listed(intervalSteps.list.map((value) => whole(value)))} h`;
  const rows: readonly (readonly [string, string])[] = [
    ["Unsafe before seen, acceptable", share(acceptable.unsafeBeforeSeen)],
    ["Over limit per inspection, acceptable", share(acceptable.overLimitPerInspection)],
    ["Functional failures per 1000 h, acceptable", fixed(acceptable.functionalFailuresPer1000H, 4)],
    [
      "Chance that one look sees it",
      acceptable.detectionChance === null
        ? NOT_GIVEN
        : `${share(acceptable.detectionChance)}; ${acceptable.detectionReference ?? "no reference"}`,
    ],
    ["Confidence", share(acceptable.confidence)],
    ["Lives, at least", whole(evidence.minimumLives)],
    ["Aircraft, at least", whole(evidence.minimumAircraft)],
    ["Lives from one aircraft, at most", share(evidence.largestAircraftShare)],
    ["Looks at the present interval, at least", whole(evidence.looksAtPresentInterval)],
    ["A look counts as at the present interval within", share(evidence.presentIntervalBand)],
    ["Components followed, at least", whole(evidence.componentsFollowed)],
    ["Aircraft they are from, at least", whole(evidence.aircraftFollowed)],
    ["or wear read beyond, as a share of the limit", share(evidence.wearReadBeyondShareOfLimit)],
    ["Components for an unsafe risk under 1 %, at least", whole(evidence.componentsForSmallUnsafeRisk)],
    ["Due looks with a number, at least", share(evidence.readingsComplete)],
    ["Early removals, at most", share(evidence.earlyRemovals)],
    ["Or fitted components expected beyond that by two more looks, at most", share(evidence.nearLimitSoon)],
    ["Change of risk under the best other fit, at most", share(evidence.fitChange)],
    ["p of the two lines agreeing, at least", fixed(evidence.linesAgreeP, 3)],
    ["p of groups being alike for a thin one to borrow, at least", fixed(evidence.borrowP, 3)],
    ["Upper bound of the wear exponent, at most", fixed(evidence.upperExponent, 2)],
    ["Rows rejected or with words not known, at most", share(evidence.rejectedRows)],
    ["Alerts", `${alerts.method}, window ${counted(alerts.windowMonths, "month")}`],
    ["Intervals tried", `${steps}; largest change ${share(intervalSteps.largestChange)}`],
    ["Components of a group that its models see, about at most", whole(fleet.modelledComponents)],
    ["Reviews", reviews === null ? "not given: this run counts as the first one" : listed(reviews) || "none"],
  ];
  return (
    <dl class="facts">
      {rows.map(([name, value]) => (
        <>
          <dt key={name}>{name}</dt>
          <dd key={`${name} is`}>
            <bdi>{value}</bdi>
          </dd>
        </>
      ))}
    </dl>
  );
}

function exceptions(task: Task): string {
  const words = task.exceptions.map(
    ({ environment, standard, intervalH }) =>
      `${listed([environment, standard].filter((word) => word !== null))} ${hours(intervalH)}`,
  );
  return words.length === 0 ? "none" : words.join("; ");
}

const PartsTable = ({ fleet }: { fleet: Fleet }): VNode => (
  <Table
    caption="Parts and their limits"
    columns={[
      { head: "Part" },
      { head: "Part numbers" },
      { head: "Replace at", numeric: true },
      { head: "Unsafe at", numeric: true },
      { head: "Faster past the limit", numeric: true },
      { head: "Reference" },
    ]}
    rows={fleet.parts.map((part): readonly Cell[] => [
      <bdi key="part">{part.part}</bdi>,
      <bdi key="numbers">{listed(part.partNumbers)}</bdi>,
      millimetres(part.replaceAtMm),
      part.unsafeAtMm === null ? NOT_GIVEN : millimetres(part.unsafeAtMm),
      `${fixed(part.beyondLimitFactor, 2)} times`,
      <bdi key="reference">{part.replaceAtReference ?? NOT_GIVEN}</bdi>,
    ])}
  />
);

const TasksTable = ({ fleet }: { fleet: Fleet }): VNode => (
  <Table
    caption="Tasks"
    columns={[
      { head: "Task" },
      { head: "Basis" },
      { head: "Interval", numeric: true },
      { head: "Tolerance", numeric: true },
      { head: "Calendar" },
      { head: "Except" },
      { head: "Reference" },
    ]}
    rows={fleet.tasks.map((task): readonly Cell[] => [
      <bdi key="task">{task.task}</bdi>,
      task.basis,
      hours(task.intervalH),
      share(task.tolerance),
      task.calendarMonths === null ? "none" : counted(task.calendarMonths, "month"),
      <bdi key="except">{exceptions(task)}</bdi>,
      <bdi key="reference">{task.reference ?? NOT_GIVEN}</bdi>,
    ])}
  />
);

const DecisionsTable = ({ fleet }: { fleet: Fleet }): VNode => (
  <Table
    caption="Decisions of the authority, as the fleet file gives them"
    columns={[
      { head: "Task" },
      { head: "For" },
      { head: "Interval", numeric: true },
      { head: "On" },
      { head: "Outcome" },
      { head: "Reference" },
      { head: "Comes again" },
      { head: "Promised", numeric: true },
    ]}
    rows={fleet.decisions.map((decision): readonly Cell[] => [
      <bdi key="task">{decision.task}</bdi>,
      <bdi key="for">
        {listed([decision.environment, decision.standard].filter((word) => word !== null)) || "all"}
      </bdi>,
      hours(decision.intervalH),
      date(decision.on),
      decision.outcome,
      <bdi key="reference">{decision.reference ?? NOT_GIVEN}</bdi>,
      <bdi key="revisit">{decision.revisit ?? "–"}</bdi>,
      decision.promisedShare === null ? "–" : share(decision.promisedShare),
    ])}
  />
);

function formatOf(spec: ExportSpec): string {
  const { delimiter, decimal, encoding, dates } = spec.format;
  const set = [
    delimiter === null ? null : `delimiter ${JSON.stringify(delimiter)}`,
    decimal === null ? null : `decimal ${JSON.stringify(decimal)}`,
    encoding,
    dates,
  ].filter((word) => word !== null);
  const unit =
    spec.unit === null || typeof spec.unit === "string" ? spec.unit : `unit in ${spec.unit.column}`;
  return listed([...set, ...(unit === null ? [] : [unit]), spec.clock]) || "all detected";
}

const ExportsTable = ({ fleet }: { fleet: Fleet }): VNode => (
  <Table
    caption="Exports: where they are, what was set about them (the rest is detected), and which heading is which"
    columns={[{ head: "Kind" }, { head: "Files" }, { head: "Set" }, { head: "Columns" }]}
    rows={Object.values(fleet.exports).map((spec): readonly Cell[] => [
      spec.kind,
      <bdi key="files">{listed(spec.files)}</bdi>,
      <bdi key="set">{formatOf(spec)}</bdi>,
      <bdi key="columns">
        {Object.entries(spec.columns)
          .map(([field, heading]) => `${field}: ${heading}`)
          .join("; ")}
      </bdi>,
    ])}
  />
);

function WordsTable({ fleet }: { fleet: Fleet }): VNode {
  const kinds = [
    ["environment", fleet.words.environments],
    ["standard", fleet.words.standards],
    ["gap state", fleet.words.gapStates],
    ["found at", fleet.words.foundAt],
    ["finding", fleet.words.findings],
    ["look in words", fleet.words.wearWords],
    ["cause", fleet.words.causes],
  ] as const;
  const rows = kinds.flatMap(([kind, words]) =>
    [...words].map(([word, means]): readonly Cell[] => [
      <bdi key="word">{word}</bdi>,
      <bdi key="means">{means}</bdi>,
      kind,
    ]),
  );
  return (
    <Table
      compact
      caption="Words as recorded, and what each is taken for"
      columns={[{ head: "Recorded" }, { head: "Taken for" }, { head: "Kind" }]}
      rows={rows}
    />
  );
}

export function Settings({ fleet }: { fleet: Fleet }): VNode {
  return (
    <Part title="Settings in force" id="settings">
      <Risks fleet={fleet} />
      <PartsTable fleet={fleet} />
      {fleet.sealGaps.length === 0 ? null : (
        <p>
          Seal gap tolerances:{" "}
          <bdi>
            {listed(
              fleet.sealGaps.map(
                ({ standard, lowMm, highMm }) => `${standard} ${fixed(lowMm, 2)} to ${millimetres(highMm)}`,
              ),
            )}
          </bdi>
          .
        </p>
      )}
      <TasksTable fleet={fleet} />
      {fleet.decisions.length === 0 ? <p>No decision is on record.</p> : <DecisionsTable fleet={fleet} />}
      <ExportsTable fleet={fleet} />
      <WordsTable fleet={fleet} />
    </Part>
  );
}
