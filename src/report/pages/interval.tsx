/**
 * interval-SLUG.html: read in a meeting by someone who didn't ask for it and may refuse. Why should I sign, and what if
 * you are wrong? Prints as a proposal on two pages and an annex.
 */
import type { VNode } from "preact";
import type { FigureProps } from "../charts/chart.ts";
import { answerInWords, groupName, sentenceCase } from "../group-name.ts";
import { Page } from "../layout.tsx";
import { ActNow } from "./act-now.tsx";
import { Annex } from "./interval-annex.tsx";
import { EvidencePage } from "./interval-evidence.tsx";
import { type OfficerProps, Proposal } from "./interval-proposal.tsx";
import { Settle } from "./interval-settle.tsx";
import { WhatIfHead } from "./interval-what-if.tsx";

/** As many as leave room for the proposal on its first page. */
const ACT_NOW_SHOWN = 4;

/** "Grip bearing, sandy, shielded: keep 300 h" */
export function intervalTitle({ recommendation }: OfficerProps): string {
  const answer = answerInWords(recommendation);
  return `${sentenceCase(groupName(recommendation.group))}: ${answer.charAt(0).toLowerCase()}${answer.slice(1)}`;
}

/** The whole page of one task and group. */
export function IntervalPage(
  props: OfficerProps & {
    readonly riskFigures: readonly FigureProps[];
    /** null where nothing came off for a cause. */
    readonly modeFigure: FigureProps | null;
  },
): VNode {
  const { month, recommendation } = props;
  const title = intervalTitle(props);
  return (
    <Page title={title} month={month} path={`interval-${recommendation.slug}.html`} kind="officer">
      <WhatIfHead />
      <h1>
        <bdi>{title}</bdi>
      </h1>
      {recommendation.actNow.length > 0 ? (
        <ActNow lines={recommendation.actNow} most={ACT_NOW_SHOWN} />
      ) : null}
      <Proposal {...props} />
      <Settle {...props} />
      <EvidencePage {...props} />
      <Annex {...props} />
    </Page>
  );
}
