/** Lives compared, under their charts: did the new standard help, and what do environment and standard do to a life? */
import type { VNode } from "preact";
import type { PartLifeComparison, StandardComparison } from "../../interval/life-findings.ts";
import type { Month } from "../../interval/month-result.ts";
import { sentenceCase } from "../group-name.ts";
import { boundedRate, counted, date, fixed, share, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import { pValue } from "./p-value.ts";

const Where = ({ one }: { one: StandardComparison }): VNode => (
  <strong>
    <bdi>{sentenceCase(one.environment)}.</bdi>
  </strong>
);

/** "Sandy. Shielded lasts longer than plain: 2.1 times as long (95 %: 1.7 to 2.6 times)." and what it stands on. */
function Helped({ one }: { one: StandardComparison }): VNode {
  const { compared, of, against } = one;
  const basis = `${date(one.fromDay)} to ${date(one.toDay)}: ${whole(one.lives.of)} and ${counted(one.lives.against, "life", "lives")}, ${whole(one.events.of)} and ${whole(one.events.against)} over the limit`;
  if (compared === null) {
    return (
      <li>
        <Where one={one} />{" "}
        <bdi>
          {sentenceCase(of)} and {against} can’t be compared: {one.why}.
        </bdi>
      </li>
    );
  }
  const removals =
    compared.removalsP === null ? "" : `; removals for cause, log-rank p ${pValue(compared.removalsP)}`;
  return (
    <li>
      <Where one={one} /> <bdi>{sentenceCase(compared.sentence)}</bdi>{" "}
      <span class="small">
        ({basis}; equal lives, p {pValue(compared.p)}
        {removals})
      </span>
    </li>
  );
}

function Effects({ one, confidence }: { one: PartLifeComparison; confidence: number }): VNode {
  if (one.whyNoEffects !== null) return <p>Environment and standard together: {one.whyNoEffects}.</p>;
  const interaction =
    one.interactionP === null
      ? "Whether a standard does the same everywhere can’t be tested."
      : one.interactionP < 0.05
        ? `A standard does not do the same everywhere (interaction, p ${pValue(one.interactionP)}): read the lines of each environment above, not these.`
        : `Nothing shows that a standard does other things elsewhere (interaction, p ${pValue(one.interactionP)}).`;
  return (
    <Table
      compact
      caption={`Ratio of lives, the other factor being equal, two-sided ${share(confidence)} bounds widened for aircraft; ${date(one.fromDay)} to ${date(one.toDay)}. ${interaction}`}
      columns={[
        { head: "What" },
        { head: "Level" },
        { head: "Against" },
        { head: "Times as long", numeric: true },
      ]}
      rows={one.effects.map((effect): readonly Cell[] => [
        effect.factor,
        <bdi key="level">{effect.level}</bdi>,
        <bdi key="against">{effect.against}</bdi>,
        boundedRate(effect.ratio),
      ])}
    />
  );
}

function Shape({ one }: { one: PartLifeComparison }): VNode {
  if (one.shape === null)
    return <p>Fewer than two groups have a fit of their own, so shapes can’t be compared.</p>;
  const { groups, shape, chiSquared, degreesOfFreedom, p } = one.shape;
  const reading =
    p < 0.05
      ? "their shapes differ, so no one ratio of lives holds at all hours"
      : "nothing shows that their shapes differ";
  return (
    <p>
      One shape for all {whole(groups)} groups with a fit: {fixed(shape, 2)}; against a shape for each χ²{" "}
      {fixed(chiSquared, 1)} on {whole(degreesOfFreedom)}, p {pValue(p)}: {reading}.
    </p>
  );
}

/** null where no part has more than one group. */
export function LivesCompared({ month }: { month: Month }): VNode | null {
  if (month.lifeComparisons.length === 0) return null;
  return (
    <>
      <h3>Did the new standard help?</h3>
      <p>
        Components side by side in time are compared, those of one aircraft taken as alike. Before and after a
        change are not compared: new seals go to the worst aircraft first.
      </p>
      {month.lifeComparisons.map((one) => (
        <div key={one.part}>
          <h4>
            <bdi>{sentenceCase(one.part)}</bdi>
          </h4>
          {one.standards.length === 0 ? (
            <p>No environment has more than one standard.</p>
          ) : (
            <ul>
              {one.standards.map((each) => (
                <Helped key={`${each.environment} ${each.of} ${each.against}`} one={each} />
              ))}
            </ul>
          )}
          <Effects one={one} confidence={month.fleet.acceptable.confidence} />
          <Shape one={one} />
        </div>
      ))}
    </>
  );
}
