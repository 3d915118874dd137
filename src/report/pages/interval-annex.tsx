/** The annex of the officer's page: what was counted, every risk, the fits, seals, aircraft, and where it all came from. */
import { createHash } from "node:crypto";
import type { VNode } from "preact";
import type { Bounded, GroupResult, Month } from "../../interval/month-result.ts";
import { isFitted } from "../effectivity.ts";
import { answerInWords } from "../group-name.ts";
import { Part } from "../layout.tsx";
import {
  alignedOnPoint,
  boundedHours,
  boundedPlain,
  boundedRate,
  boundedShare,
  counted,
  date,
  fixed,
  hours,
  listed,
  millimetres,
  share,
  shareAgainst,
  whole,
} from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import type { OfficerProps } from "./interval-proposal.tsx";

const PERCENT_SIGN = /\u202f%$/;

/** One hash for the whole list of inputs: sha256 of lines "sha256  file" in reading order. */
export const inputListHash = (month: Month): string =>
  createHash("sha256")
    .update(month.inputs.map(({ sha256, file }) => `${sha256}  ${file}\n`).join(""), "utf8")
    .digest("hex");

function Counted({ recommendation, month }: OfficerProps): VNode {
  const { counted: found, functionalFailures: failures } = recommendation;
  const confidence = share(month.fleet.acceptable.confidence);
  return (
    <Part title="Counted at the present interval">
      <p>
        {counted(found.looks, "look")} within {share(month.fleet.evidence.presentIntervalBand)} of{" "}
        {hours(recommendation.presentIntervalH)}
        {found.since === null ? "" : ` since ${date(found.since)}`}; {whole(found.overLimit)} found the
        component over the limit
        {found.share === null
          ? "."
          : `: ${boundedShare(found.share)} of looks, ${confidence} two-sided (Clopper–Pearson).`}
        {found.ages === null
          ? ""
          : ` Ages looked at: ${whole(found.ages.smallest)} to ${hours(found.ages.largest)}, half of them under ${hours(found.ages.median)}.`}
      </p>
      <p>
        {counted(failures.failures, "functional failure")} in {hours(failures.hours)}
        {failures.per1000H === null ? "" : `: ${boundedRate(failures.per1000H)} per 1000 h, exact Poisson`};{" "}
        {whole(failures.inLast24Months)} in the last 24 months. Acceptable:{" "}
        {fixed(month.fleet.acceptable.functionalFailuresPer1000H, 3)} per 1000 h.
      </p>
      <p>These counts can veto a change. They are no forecast for another interval.</p>
    </Part>
  );
}

/** The pair of columns of a risk, in percent: estimates and upper bounds, each aligned on the decimal point. */
function riskColumns(risks: readonly (Bounded | null)[], acceptable: number): readonly (readonly string[])[] {
  const write = (value: number): string => shareAgainst(value, acceptable).replace(PERCENT_SIGN, "");
  const estimates = risks.map((risk) => (risk === null ? "–" : write(risk.estimate)));
  const bounds = risks.map((risk) => {
    if (risk === null) return "–";
    return risk.upper === null ? "none" : write(risk.upper);
  });
  return [alignedOnPoint(estimates), alignedOnPoint(bounds)];
}

function Risks({ recommendation, month }: OfficerProps): VNode {
  const { acceptable } = month.fleet;
  const { risks } = recommendation;
  const columns = [
    ...riskColumns(
      risks.map((risk) => risk.overLimitPerInspection.life),
      acceptable.overLimitPerInspection,
    ),
    ...riskColumns(
      risks.map((risk) => risk.overLimitPerInspection.wear),
      acceptable.overLimitPerInspection,
    ),
    ...riskColumns(
      risks.map((risk) => risk.unsafeBeforeSeen),
      acceptable.unsafeBeforeSeen,
    ),
  ];
  const rows = risks.map((risk, at): readonly Cell[] => [
    whole(risk.intervalH),
    ...columns.map((column) => column[at]),
  ]);
  const head = (name: string) => ({ head: name, numeric: true });
  return (
    <Part title="Risk at every interval">
      <Table
        narrow="scroll"
        caption={`Upper bounds are one-sided at ${share(acceptable.confidence)}. Acceptable: ${share(acceptable.overLimitPerInspection)} over limit at a look; ${share(acceptable.unsafeBeforeSeen)}, of those that reach the limit, unsafe before seen.`}
        columns={[
          head("Interval, h"),
          head("Over limit by lives, %"),
          head("its bound"),
          head("Over limit by wear, %"),
          head("its bound "),
          head("Unsafe before seen, %"),
          head("its bound  "),
        ]}
        rows={rows}
      />
    </Part>
  );
}

function Fits({ recommendation, group, month }: OfficerProps): VNode {
  const { life, wear } = group;
  const { oldest, firstInspectionHours, withEarlyRemovalsCensored } = recommendation;
  return (
    <Part title="Fits">
      <dl class="facts">
        <dt>Lives</dt>
        <dd>
          {whole(life.lives)}: {whole(life.events)} over limit, {whole(life.running)} still good,{" "}
          {whole(life.lateEntries)} under way when the records begin;{" "}
          {counted(group.earlyRemovals, "early removal")}
        </dd>
        <dt>Weibull</dt>
        <dd>
          {life.weibull === null ? (
            <bdi>{life.why ?? "not fitted"}</bdi>
          ) : (
            `shape ${boundedPlain(life.weibull.shape)}, scale ${boundedHours(life.weibull.scaleHours)}, 10 % over limit by ${boundedHours(life.weibull.tenPercentHours)}`
          )}
        </dd>
        <dt>Wear rate</dt>
        <dd>
          {wear.fit === null ? (
            <bdi>{wear.why ?? "not fitted"}</bdi>
          ) : (
            `${boundedRate(wear.fit.ratePer1000H)} mm per 1000 h on average; a reading scatters by ${millimetres(wear.fit.measurementSdMm, 3)}`
          )}
        </dd>
        <dt>First look</dt>
        <dd>
          {firstInspectionHours === null
            ? "no life can be given at which the acceptable share is over"
            : `the acceptable share is over at ${boundedHours(firstInspectionHours)}; no interval may pass the lower bound`}
        </dd>
        <dt>Oldest fitted</dt>
        <dd>
          {oldest === null ? (
            "nothing fitted, or no model"
          ) : (
            <>
              <bdi>{oldest.serial}</bdi> at {hours(oldest.hours)}: {boundedShare(oldest.chanceNextLook)}{" "}
              chance of being over at its next look
            </>
          )}
        </dd>
        <dt>Early removals</dt>
        <dd>
          counted as over limit: {answerInWords(recommendation)}; counted as good:{" "}
          {answerInWords({ ...recommendation, ...withEarlyRemovalsCensored })}
        </dd>
      </dl>
      <p class="small">
        Two-sided {share(month.fleet.acceptable.confidence)} likelihood-ratio bounds for the Weibull, t bounds
        for the wear rate.
      </p>
    </Part>
  );
}

const QUARTERS = 4;

function Seals({ group, month }: OfficerProps): VNode {
  const { environment, standard } = group.key;
  const tolerance = month.fleet.sealGaps.find((gap) => gap.standard === standard);
  const mine = month.gapQuarters.filter(
    (row) => row.environment === environment && row.standard === standard,
  );
  const latest = [...new Set(mine.map((row) => row.quarter))].sort().slice(-QUARTERS);
  const rows = mine
    .filter((row) => latest.includes(row.quarter))
    .map((row): readonly Cell[] => [
      `${row.quarter}, as ${row.state}`,
      whole(row.readings),
      fixed(row.medianMm, 2),
      `${fixed(row.lowMm, 2)}–${fixed(row.highMm, 2)}`,
      row.outOfTolerance === null ? "no tolerance given" : share(row.outOfTolerance),
    ]);
  if (rows.length === 0) return <Part title="Seal gaps">No gap reading belongs to this group.</Part>;
  const allowed =
    tolerance === undefined
      ? "No tolerance is given for this standard."
      : `Tolerance: ${fixed(tolerance.lowMm, 2)} to ${millimetres(tolerance.highMm)}.`;
  return (
    <Part title="Seal gaps">
      <Table
        narrow="scroll"
        compact
        caption={`The last ${counted(latest.length, "quarter")} with readings. ${allowed}`}
        columns={[
          { head: "Quarter" },
          { head: "Readings", numeric: true },
          { head: "Median, mm", numeric: true },
          { head: "Low–high, mm", numeric: true },
          { head: "Out of tolerance", numeric: true },
        ]}
        rows={rows}
      />
    </Part>
  );
}

const isEvent = (end: GroupResult["lives"][number]["end"]): boolean =>
  end === "over limit found" ||
  end === "functional failure" ||
  end === "early removal" ||
  end === "unread removal";

/** Lives, looks and events by aircraft, most lives first; aircraft without a name come last. */
function Aircraft({ group }: OfficerProps): VNode {
  const by = new Map<string, { lives: number; looks: number; events: number; fitted: number }>();
  for (const life of group.lives) {
    const row = by.get(life.aircraft) ?? { lives: 0, looks: 0, events: 0, fitted: 0 };
    row.lives += 1;
    row.looks += life.lookHours.length;
    row.events += isEvent(life.end) ? 1 : 0;
    row.fitted += isFitted(life) ? 1 : 0;
    by.set(life.aircraft, row);
  }
  const rows = [...by]
    .sort(([nameA, a], [nameB, b]) => b.lives - a.lives || (nameA < nameB ? -1 : 1))
    .map(([name, row]): readonly Cell[] => [
      name === "" ? "not recorded" : <bdi key="name">{name}</bdi>,
      whole(row.lives),
      whole(row.looks),
      whole(row.events),
      whole(row.fitted),
    ]);
  return (
    <Part title="Aircraft" kind="across">
      <p class="small">Every aircraft that gave this group a life, and what was found on it.</p>
      <div class="aircraft">
        <Table
          narrow="scroll"
          compact
          label="Aircraft of this group"
          columns={[
            { head: "Aircraft" },
            { head: "Lives", numeric: true },
            { head: "Looks", numeric: true },
            { head: "Over limit", numeric: true },
            { head: "Fitted now", numeric: true },
          ]}
          rows={rows}
        />
      </div>
    </Part>
  );
}

/** Files and rows used, by kind of export. */
function sourcesByKind(month: Month): readonly { kind: string; files: number; used: number }[] {
  const by = new Map<string, { files: number; used: number }>();
  for (const input of month.inputs) {
    const row = by.get(input.kind) ?? { files: 0, used: 0 };
    row.files += 1;
    row.used += input.used;
    by.set(input.kind, row);
  }
  return [...by].map(([kind, row]) => ({ kind, ...row }));
}

function Sources({ month }: OfficerProps): VNode {
  const sources = sourcesByKind(month).map(
    ({ kind, files, used }) => `${kind}: ${counted(used, "row")} of ${counted(files, "file")}`,
  );
  return (
    <Part title="Sources">
      <p>Exports used: {listed(sources) || "none"}.</p>
      <dl class="facts">
        <dt>Hash of the inputs</dt>
        <dd>
          <code>{inputListHash(month)}</code>
        </dd>
        <dt>Settings</dt>
        <dd>
          <code>{month.settingsSha256}</code>
        </dd>
      </dl>
      <p>
        The first is the sha256 of the list of all input files, a line “sha256, two spaces, file” for each in
        the order of <a href="data.html">data.html</a>, which names every one. Rows behind each life, by file
        and line, are in <a href="lives.csv">lives.csv</a>; how the numbers are made is in{" "}
        <a href="method.html">method.html</a>.
      </p>
    </Part>
  );
}

export function Annex(props: OfficerProps): VNode {
  return (
    <>
      <h2 class="annex-head">Annex: what was counted, fitted and used</h2>
      <Counted {...props} />
      <Risks {...props} />
      <Fits {...props} />
      <Seals {...props} />
      <Aircraft {...props} />
      <Sources {...props} />
    </>
  );
}
