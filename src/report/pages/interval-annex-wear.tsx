/** The annex's account of the wear readings behind a group: how they were measured, their shape, and the seal's share. */
import type { VNode } from "preact";
import type { WearMeasurement } from "../../interval/wear-checks.ts";
import { Part } from "../layout.tsx";
import { boundedPlain, boundedRate, counted, fixed, millimetres, share, whole } from "../number-format.ts";
import { allInText, outShareRange, sealSentence, timesText, WAY_NAMES } from "../seal-words.ts";
import type { OfficerProps } from "./interval-proposal.tsx";

/** What the readings say about the measuring. Nothing here is dropped from a fit. */
export function Measured({ group, month }: OfficerProps): VNode {
  const { measurement, shape, robustRatePer1000H } = group.wearChecks;
  const { fit } = group.wear;
  const { curvature } = shape;
  const confidence = share(month.fleet.acceptable.confidence);
  return (
    <Part title="Measured">
      <dl class="facts">
        <dt>Scatter</dt>
        <dd>
          {fit === null
            ? "no line to tell it by"
            : `${millimetres(fit.measurementSdMm, 3)} about each component’s line`}
          ;{" "}
          {measurement.repeatSdMm === null
            ? "no reading was repeated at the same hours"
            : `${millimetres(measurement.repeatSdMm, 3)} between ${counted(measurement.repeats, "repeat")} at the same hours`}
        </dd>
        <dt>Gauge</dt>
        <dd>
          {measurement.gaugeStepMm === null
            ? "no step noticed"
            : `read in steps of ${millimetres(measurement.gaugeStepMm, 3)}`}
        </dd>
        <dt>Near the limit</dt>
        <dd>{heapingWords(measurement)}</dd>
        <dt>Looks with a number</dt>
        <dd>
          {whole(measurement.looksWithNumber)} of {whole(measurement.looks)}
          {measurement.looks === 0 ? "" : ` (${share(measurement.looksWithNumber / measurement.looks)})`}
        </dd>
        <dt>Odd readings</dt>
        <dd>
          {measurement.oddCount === 0
            ? "none 4 standard deviations off the line of its component’s other readings"
            : `${counted(measurement.oddCount, "reading")} 4 standard deviations or more off the line of the component’s others; in every fit, and listed with their rows in the data page`}
        </dd>
        <dt>Second opinion</dt>
        <dd>
          {robustRatePer1000H === null
            ? "too few components with two readings"
            : `the median component wears ${boundedRate(robustRatePer1000H)} mm per 1000 h (Theil–Sen, one vote each)`}
        </dd>
        <dt>Shape</dt>
        <dd>
          {curvature.kind === "fitted"
            ? `wear goes as hours to the power ${boundedPlain({ estimate: curvature.exponent, lower: curvature.lower, upper: curvature.upper })}, within ${counted(curvature.components, "component")}`
            : `not tested: ${curvature.why}`}
        </dd>
      </dl>
      <p class="small">Bounds {confidence}: two-sided for the rate, each side for the power.</p>
    </Part>
  );
}

function heapingWords({ heaping }: WearMeasurement): string {
  const { windowMm, before, justBelow, from, p } = heaping;
  const counts = `${whole(justBelow)} in the ${millimetres(windowMm, 3)} just below it, ${whole(before)} in the step before, ${whole(from)} in the step above`;
  if (before + justBelow + from === 0) return "no reading near the limit";
  return `${counts}; ${p < 0.05 ? "more than chance just below" : "no heap just below"} (p ${fixed(p, 2)})`;
}

/** What the seal has to do with this group's wear. */
export function SealShare({ group, month }: OfficerProps): VNode | null {
  const { part, environment, standard } = group.key;
  const seal = month.partWear.find((one) => one.part === part)?.seal;
  if (seal === undefined) return null;
  const own =
    seal.kind === "fitted"
      ? seal.groups.find((one) => one.environment === environment && one.standard === standard)
      : undefined;
  if (own === undefined)
    return (
      <p>
        <bdi>
          What the seal does to this group’s wear is not known:{" "}
          {seal.kind === "none" ? seal.why : "no component of it has two gap readings and a tolerance"}.
        </bdi>
      </p>
    );
  const { pessimistic, driftMmPer1000H, rateAllIn } = own;
  return (
    <>
      <p>
        Flown out of tolerance: {outShareRange(own)} of the hours known, by where the moment is placed that
        nobody saw.{" "}
        {pessimistic === null
          ? ""
          : `Such hours wear ${timesText(pessimistic.ratio)} times as fast as those in tolerance, placed ${WAY_NAMES[pessimistic.crossing]}, the way with the smallest lower bound: `}
        {sealSentence(own)}.{" "}
        {driftMmPer1000H === null ? "" : `A gap drifts ${boundedRate(driftMmPer1000H)} mm per 1000 h.`}
      </p>
      {rateAllIn === null ? null : (
        <p>
          As a scenario only: with every seal in tolerance, {allInText(own)}. No recommendation follows from
          it.
        </p>
      )}
    </>
  );
}
