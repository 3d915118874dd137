/** The seal's share in the wear, under the charts of gaps. */
import type { VNode } from "preact";
import type { Month } from "../../interval/month-result.ts";
import type { SealFinding } from "../../interval/seal-finding.ts";
import { sentenceCase } from "../group-name.ts";
import { boundedRate, counted, share, whole } from "../number-format.ts";
import { allInText, outShareRange, sealSentence, timesText, WAY_NAMES } from "../seal-words.ts";
import { type Cell, Table } from "../table.tsx";

export function SealEffects({ month }: { month: Month }): VNode {
  const confidence = share(month.fleet.acceptable.confidence);
  return (
    <>
      {month.partWear.map(({ part, seal }) =>
        seal.kind === "none" ? (
          <p key={part}>
            <bdi>
              {sentenceCase(part)}: what seals do to its wear is not known: {seal.why}.
            </bdi>
          </p>
        ) : (
          <PartSeal key={part} part={part} seal={seal} confidence={confidence} />
        ),
      )}
    </>
  );
}

function PartSeal(props: {
  readonly part: string;
  readonly seal: SealFinding & { readonly kind: "fitted" };
  readonly confidence: string;
}): VNode {
  const { part, seal, confidence } = props;
  const { together } = seal;
  const ratio =
    together.ratio === null
      ? ""
      : ` wear ${timesText(together.ratio)} times the rate of hours in tolerance, all environments together, the moment of leaving it placed ${WAY_NAMES[together.crossing]}`;
  return (
    <>
      <p>
        <bdi>
          {sentenceCase(part)}, hours out of tolerance{ratio}. {counted(seal.joined, "gap reading")} join{" "}
          {counted(seal.components, "component")}; {whole(seal.notJoined)} join none.
        </bdi>
      </p>
      <Table
        caption={`Wear rate of hours with the gap out of tolerance over that of hours in it, whole aircraft drawn again, two-sided ${confidence}. Nobody saw when a gap left its tolerance between two visits: it is placed on a straight line, right after it was left, and just before it was found; shown is the way with the smallest lower bound. Gaps are read with scatter, which draws the ratio towards 1. The last column is a scenario only.`}
        columns={[
          { head: "Group" },
          { head: "Hours out of tolerance", numeric: true },
          { head: "Times the rate in tolerance", numeric: true },
          { head: "Placed", wide: true },
          { head: "What it shows", wide: true },
          { head: "Gap drift, mm per 1000 h", numeric: true },
          { head: "Every seal in tolerance", wide: true },
        ]}
        rows={seal.groups.map((group): readonly Cell[] => [
          <bdi key="group">{`${group.environment}, ${group.standard}`}</bdi>,
          outShareRange(group),
          timesText(group.pessimistic?.ratio ?? null),
          group.pessimistic === null ? "–" : WAY_NAMES[group.pessimistic.crossing],
          sealSentence(group),
          group.driftMmPer1000H === null ? "–" : boundedRate(group.driftMmPer1000H),
          allInText(group),
        ])}
      />
    </>
  );
}
