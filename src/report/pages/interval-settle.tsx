/** Where the evidence is too thin for any answer: what would settle it, so that the page has something to ask for. */
import type { VNode } from "preact";
import { isUnbounded, sentenceCase } from "../group-name.ts";
import { Part } from "../layout.tsx";
import type { OfficerProps } from "./interval-proposal.tsx";

/** What the failed rules ask for, each thing once; nothing where the page has an answer. */
export function Settle({ recommendation }: OfficerProps): VNode | null {
  if (!isUnbounded(recommendation)) return null;
  const rulesOf = new Map<string, string[]>();
  for (const { rule, settle } of recommendation.evidence) {
    if (settle !== null) rulesOf.set(settle, [...(rulesOf.get(settle) ?? []), rule]);
  }
  if (rulesOf.size === 0) return null;
  return (
    <Part title="What would settle it">
      <p>A bound needs what the finding above names. The evidence rules of an extension ask besides:</p>
      <ul>
        {[...rulesOf].map(([settle, rules]) => (
          <li key={settle}>
            <bdi>{sentenceCase(settle)}</bdi>{" "}
            <span class="quiet">
              (<bdi>{rules.join(", ")}</bdi>)
            </span>
          </li>
        ))}
      </ul>
    </Part>
  );
}
