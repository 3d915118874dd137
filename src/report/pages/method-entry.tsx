/** How an estimator is described: what it assumes, its formula, its source, when it fails, and what is shown then. */
import type { ComponentChildren, VNode } from "preact";
import { Part } from "../layout.tsx";

export interface Method {
  readonly name: string;
  readonly id: string;
  /** What it gives, in a sentence. */
  readonly gives: string;
  readonly formula: ComponentChildren;
  /** What the signs of the formula mean. */
  readonly where: string;
  readonly assumes: string;
  readonly source: string;
  readonly fails: string;
  readonly shownThen: string;
}

export const MethodPart = ({ method }: { method: Method }): VNode => (
  <Part title={method.name} id={method.id}>
    <p>{method.gives}</p>
    {method.formula}
    <p class="small">{method.where}</p>
    <dl class="facts">
      <dt>Assumes</dt>
      <dd>{method.assumes}</dd>
      <dt>Fails when</dt>
      <dd>{method.fails}</dd>
      <dt>Shown then</dt>
      <dd>{method.shownThen}</dd>
      <dt>Source</dt>
      <dd>{method.source}</dd>
    </dl>
  </Part>
);
