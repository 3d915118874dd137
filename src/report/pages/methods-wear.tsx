/** What stands beside the wear fits, as method.html sets it out: comparison, tail, shape, seal, hours left, measuring. */
import { Formula, Frac, I, N, O, Over, Power, Sub, T } from "../math.tsx";
import type { Method } from "./method-entry.tsx";

const b = <I>b</I>;
const h = <I>h</I>;

const compared: Method = {
  name: "Rates compared",
  id: "compared",
  gives:
    "Rates of all environments and standards of a part in one model, each adjusted for the others and for aircraft, and how many times the slowest each is.",
  formula: (
    <Formula says="wear equals a of the standard plus the sum over environments of b times hours flown there, plus u, plus v plus g of the aircraft times weighted hours, plus e">
      <I>w</I>
      <O>=</O>
      <I>a</I>
      <O>+</O>
      <Over sign="∑" range={<T>places</T>} />
      <Sub base={b} sub={<I>k</I>} />
      <Sub base={h} sub={<I>k</I>} />
      <O>+</O>
      <I>u</I>
      <O>+</O>
      <O>(</O>
      <I>v</I>
      <O>+</O>
      <I>g</I>
      <O>)</O>
      <Over sign="∑" range={<T>places</T>} />
      <Frac over={<Sub base={b} sub={<I>k</I>} />} under={<I>m</I>} />
      <Sub base={h} sub={<I>k</I>} />
      <O>+</O>
      <I>e</I>
    </Formula>
  ),
  where:
    "k: environment and standard; h: hours flown there; u, v: of the component; g: of its aircraft; m: mean rate. Components and aircraft differ in proportion to the rate where they fly.",
  assumes:
    "A component is followed to a change of its standard. Hours before the records are those of its first environment. Environments and standards with fewer than three components are left out.",
  source:
    "REML as for wear; covariance by the model or with aircraft as clusters, whichever is wider, Student’s t with aircraft − 1; ratios by Fieller, JRSS B 16 (1954) 175–185.",
  fails: "Fewer than three aircraft, or places that no component tells apart.",
  shownThen: "Each group’s own fit, and ratios without bounds.",
};

const tail: Method = {
  name: "The tail of the rates",
  id: "tail",
  gives: "Every risk from wear three ways, of which the worst counts.",
  formula: (
    <Formula says="risk equals the greatest of the fitted spread's, the mean over observed rates, and the mixture's">
      <T>risk</T>
      <O>=</O>
      <I>max</I>
      <O>(</O>
      <T>fitted spread</T>
      <O>,</O>
      <T>mean of rates</T>
      <O>,</O>
      <T>mixture</T>
      <O>)</O>
    </Formula>
  ),
  where:
    "The mixture (most components, and a share of fast ones) counts where it fits better by AIC. Observed rates are weighted by the chance of having been met at all.",
  assumes:
    "With n components a bad share of up to about 3/n can’t be excluded, whatever is fitted. Upper bounds take the exponent of wear on hours at its own upper bound; where the readings rule out straight wear, best estimates take the exponent itself where that is worse.",
  source:
    "Below many components a bound’s likelihood drop is that of the exact tolerance bound of as many normal values (Hahn and Meeker, Statistical Intervals, 1991); above, the χ² quantile. Components followed from new are fitted apart: from 50 of them with bounds of their own, below as a check of the estimate.",
  fails: "As the fit decided on.",
  shownThen: "No bound from wear, hence no extension.",
};

const shape: Method = {
  name: "Shape of wear",
  id: "shape",
  gives:
    "Whether wear bends, whether components wear otherwise after running in, and whether their rate changes at a date or with their standard.",
  formula: (
    <Formula says="wear of component i equals a plus b i times hours to the power c; or a i plus b i times hours plus delta times hours after">
      <I>w</I>
      <O>=</O>
      <I>a</I>
      <O>+</O>
      <Sub base={b} sub={<I>i</I>} />
      <Power base={h} power={<I>c</I>} />
      <O>;</O>
      <I>w</I>
      <O>=</O>
      <Sub base={<I>a</I>} sub={<I>i</I>} />
      <O>+</O>
      <Sub base={b} sub={<I>i</I>} />
      {h}
      <O>+</O>
      <I>δ</I>
      <Sub base={h} sub={<T>after</T>} />
    </Formula>
  ),
  where:
    "c: exponent, 1 where wear runs straight; δ: rate after less rate before. Running in is looked for in the hours of the first two intervals, a date at every quarter with bounds that allow for all tried.",
  assumes:
    "Within components only, each with a rate of its own: replacement at the limit makes readings taken together look as if wear slowed down.",
  source:
    "Profile likelihood for c; for δ least squares freed of each component’s own line (Frisch and Waugh, Econometrica 1, 1933), aircraft as clusters (Liang and Zeger, Biometrika 73, 1986).",
  fails: "Fewer than five components read often enough.",
  shownThen: "“Not tested”, and the rule on the upper exponent fails.",
};

const seal: Method = {
  name: "Seal effect",
  id: "seal",
  gives:
    "The wear rate of hours flown with the gap out of tolerance over that of hours in tolerance, by environment and standard.",
  formula: (
    <Formula says="ratio equals rate of hours out of tolerance over rate of hours in tolerance; rate with all seals in tolerance over rate as flown equals one over one plus s times ratio minus one">
      <I>r</I>
      <O>=</O>
      <Frac over={<Sub base={b} sub={<T>out</T>} />} under={<Sub base={b} sub={<T>in</T>} />} />
      <O>;</O>
      <T>scenario</T>
      <O>=</O>
      <Frac
        over={<N>1</N>}
        under={
          <>
            <N>1</N>
            <O>+</O>
            <I>s</I>
            <O>(</O>
            <I>r</I>
            <O>−</O>
            <N>1</N>
            <O>)</O>
          </>
        }
      />
    </Formula>
  ),
  where:
    "s: share of the known hours flown out of tolerance. The model is that of the rates compared, with places split into hours in, out, and not known.",
  assumes:
    "A gap reading belongs to the component that was there that day; where its own hours don’t tell two apart, it joins none. A gap that was not set again was left as found. When it left its tolerance between two visits is placed three ways: on a straight line, right after it was left, just before it was found.",
  source: "Whole aircraft drawn again with replacement, or the model’s bounds, whichever is wider.",
  fails: "No hours of both kinds in any environment.",
  shownThen: "The reason; shares and drift of gaps where they are known.",
};

const left: Method = {
  name: "Hours left, and the watch list",
  id: "left",
  gives:
    "For each fitted component, from its own readings: hours from its last look to the replace-at limit, and the chance of being read over it at the next look. What was flown since that look stands beside them: take it off to have the hours from now.",
  formula: (
    <Formula says="chance over equals the integral over rates b of the chance that the line a plus b times h reads over R, times f of b given the component's readings">
      <I>P</I>
      <O>=</O>
      <O>∫</O>
      <I>P</I>
      <O>(</O>
      <I>a</I>
      <O>+</O>
      {b}
      {h}
      <O>+</O>
      <I>e</I>
      <O>≥</O>
      <I>R</I>
      <O>|</O>
      {b}
      <O>)</O>
      <I>f</I>
      <O>(</O>
      {b}
      <O>|</O>
      <T>its readings</T>
      <O>)</O>
      <I>d</I>
      {b}
    </Formula>
  ),
  where:
    "h: hours at the next look, as late as its tolerance allows; of the families not told apart, the worse. On the list from a chance of 5 %.",
  assumes:
    "The group’s spread of rates is taken as known, wear as running straight. The list’s record on the trend page predicts past looks from the readings before them: where that disagrees, believe the record.",
  source: "The posterior of the component’s rate under the fit decided on.",
  fails: "The fit decided on is not there.",
  shownThen: "The group’s components are not on the list.",
};

const measuring: Method = {
  name: "Second opinion, and the measuring",
  id: "measuring",
  gives:
    "The median component’s rate; scatter from repeats and about the lines; the gauge’s step; a heap below the limit; odd readings.",
  formula: (
    <Formula says="rate of the median component equals the median over components of the median slope between two of its readings">
      <T>rate</T>
      <O>=</O>
      <Sub base={<I>median</I>} sub={<I>i</I>} />
      <Sub base={<I>median</I>} sub={<T>pairs</T>} />
      <Frac
        over={
          <>
            <I>Δ</I>
            <I>w</I>
          </>
        }
        under={
          <>
            <I>Δ</I>
            {h}
          </>
        }
      />
    </Formula>
  ),
  where:
    "One vote a component; bounds by order statistics. A heap: more than a third of the readings of three windows about the limit in the middle one, beyond chance. Odd: 4 standard deviations off the line of the component’s other readings.",
  assumes:
    "Nothing is dropped: odd readings stay in every fit, and are listed with their rows on the data page.",
  source: "Sen, JASA 63 (1968) 1379–1389, within each component.",
  fails: "Fewer than six components with two readings.",
  shownThen: "A dash in its place; the mean rate stands alone.",
};

export const WEAR_METHODS: readonly Method[] = [compared, tail, shape, seal, left, measuring];
