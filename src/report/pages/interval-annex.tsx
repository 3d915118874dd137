/** The annex of the officer's page: what was counted, every risk, the fits, seals, aircraft, and where it all came from. */
import { createHash } from "node:crypto";
import type { VNode } from "preact";
import type { Month } from "../../interval/month-result.ts";
import type { FigureProps } from "../charts/chart.ts";
import { answerInWords, isUnbounded } from "../group-name.ts";
import { Part } from "../layout.tsx";
import {
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
  whole,
} from "../number-format.ts";
import { Costs } from "./interval-annex-costs.tsx";
import { Aircraft, Seals } from "./interval-annex-fleet.tsx";
import { LifeTrust, Modes } from "./interval-annex-life.tsx";
import { Risks } from "./interval-annex-risks.tsx";
import { Measured } from "./interval-annex-wear.tsx";
import type { OfficerProps } from "./interval-proposal.tsx";
import { OtherSettings } from "./interval-would-change.tsx";

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
        {failures.per1000H === null
          ? ""
          : `: ${boundedRate(failures.per1000H)} per 1000 h, exact Poisson, each bound one-sided at ${confidence}`}
        ; {whole(failures.inLast24Months)} in the last 24 months. Acceptable:{" "}
        {fixed(month.fleet.acceptable.functionalFailuresPer1000H, 3)} per 1000 h.
        {failures.firstOpen === null
          ? ""
          : ` ${counted(failures.open, "removal")} of the last 24 months may have been failures too; the first is ${failures.firstOpen.source}, since ${failures.firstOpen.why}.`}
      </p>
      <p>These counts can veto a change. They are no forecast for another interval.</p>
    </Part>
  );
}

/** The answer as a part of a sentence: "shorten 300 h to 200 h". */
const inSentence = (recommendation: OfficerProps["recommendation"]): string => {
  const answer = answerInWords(recommendation);
  return answer.charAt(0).toLowerCase() + answer.slice(1);
};

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
            <bdi>
              {life.why ?? "not fitted"}
              {life.zeroEvents === null ? "" : `. ${life.zeroEvents}`}
            </bdi>
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
          {firstInspectionHours === null || isUnbounded(recommendation)
            ? "no hours can be given by which the acceptable share is over the limit"
            : `${share(month.fleet.acceptable.overLimitPerInspection)}, the acceptable share, are over the limit by ${boundedHours(firstInspectionHours)}; no interval may pass the lower bound`}
        </dd>
        <dt>Oldest fitted</dt>
        <dd>
          {oldest === null ? (
            "nothing fitted, or nothing with a bound to say of it"
          ) : (
            <>
              <bdi>{oldest.serial}</bdi> at {hours(oldest.hours)}:{" "}
              {isUnbounded(recommendation)
                ? "no chance is given, since none has a bound"
                : `${boundedShare(oldest.chanceNextLook)} chance of being over at its next look`}
            </>
          )}
        </dd>
        <dt>Early removals</dt>
        <dd>
          counted as over limit: {inSentence(recommendation)}; counted as good:{" "}
          {inSentence({ ...recommendation, ...withEarlyRemovalsCensored })}
        </dd>
      </dl>
      <p class="small">
        Two-sided {share(month.fleet.acceptable.confidence)} likelihood-ratio bounds for the Weibull, t bounds
        for the wear rate.
      </p>
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

/** The annex, from page three on. */
export function Annex(props: OfficerProps & { readonly modeFigure: FigureProps | null }): VNode {
  return (
    <>
      <h2 class="annex-head">Annex: what was counted, fitted and used</h2>
      <Counted {...props} />
      <Risks {...props} />
      <Costs {...props} />
      <OtherSettings {...props} />
      <Fits {...props} />
      <LifeTrust {...props} />
      <Modes {...props} />
      <Measured {...props} />
      <Seals {...props} />
      <Aircraft {...props} />
      <Sources {...props} />
    </>
  );
}
