/** A few words of MathML, enough for the formulas of method.html: identifiers, operators, fractions, scripts, sums. */
import type { ComponentChildren, VNode } from "preact";

type Content = { readonly children: ComponentChildren };

/** A formula on a line of its own; `says` is the same in words, for a reader that doesn't speak MathML. */
export const Formula = ({ says, children }: Content & { readonly says: string }): VNode => (
  <math display="block" aria-label={says}>
    <mrow>{children}</mrow>
  </math>
);

/** An identifier. */
export const I = ({ children }: Content): VNode => <mi>{children}</mi>;
/** A number. */
export const N = ({ children }: Content): VNode => <mn>{children}</mn>;
/** An operator. */
export const O = ({ children }: Content): VNode => <mo>{children}</mo>;
/** Words in a formula; their spaces stay. */
export const T = ({ children }: Content): VNode => (
  <mtext>{typeof children === "string" ? children.replaceAll(" ", "\u00a0") : children}</mtext>
);

/** A base with a subscript. */
export const Sub = ({
  base,
  sub,
}: {
  readonly base: ComponentChildren;
  readonly sub: ComponentChildren;
}): VNode => (
  <msub>
    <mrow>{base}</mrow>
    <mrow>{sub}</mrow>
  </msub>
);

/** A base with an exponent. */
export const Power = ({
  base,
  power,
}: {
  readonly base: ComponentChildren;
  readonly power: ComponentChildren;
}): VNode => (
  <msup>
    <mrow>{base}</mrow>
    <mrow>{power}</mrow>
  </msup>
);

/** A fraction. */
export const Frac = ({
  over,
  under,
}: {
  readonly over: ComponentChildren;
  readonly under: ComponentChildren;
}): VNode => (
  <mfrac>
    <mrow>{over}</mrow>
    <mrow>{under}</mrow>
  </mfrac>
);

/** Σ or max with what it runs over beneath. */
export const Over = ({
  sign,
  range,
}: {
  readonly sign: ComponentChildren;
  readonly range: ComponentChildren;
}): VNode => (
  <munder>
    {sign === "max" ? <mi>max</mi> : <mo>{sign}</mo>}
    <mrow>{range}</mrow>
  </munder>
);

/** f(…): a function and its argument in brackets. */
export const Of = ({ f, children }: Content & { readonly f: string }): VNode => (
  <mrow>
    <mi>{f}</mi>
    <mo>(</mo>
    {children}
    <mo>)</mo>
  </mrow>
);
