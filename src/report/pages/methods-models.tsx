/** The models behind the risks, as method.html sets them out: lives, wear, and what is decided on. */
import { Formula, Frac, I, N, O, Of, Over, Power, Sub, T } from "../math.tsx";
import type { Method } from "./method-entry.tsx";

const t = <I>t</I>;
const scale = <I>η</I>;
const shape = <I>β</I>;
const ij = (
  <>
    <I>i</I>
    <I>j</I>
  </>
);

const weibull: Method = {
  name: "Lives",
  id: "lives",
  gives:
    "Weibull by maximum likelihood on exact, interval-, left- and right-censored lives, each counted only from the hours at which it came under observation.",
  formula: (
    <>
      <Formula says="S of t equals e to the minus t over eta, to the power beta">
        <Of f="S">{t}</Of>
        <O>=</O>
        <I>exp</I>
        <O>(</O>
        <O>−</O>
        <Power
          base={
            <>
              <O>(</O>
              <Frac over={t} under={scale} />
              <O>)</O>
            </>
          }
          power={shape}
        />
        <O>)</O>
      </Formula>
      <Formula says="log likelihood equals the sum over lives of log of S of lower minus S of upper, less log S of entry">
        <I>log</I>
        <I>L</I>
        <O>=</O>
        <Over sign="∑" range={<T>lives</T>} />
        <O>[</O>
        <I>log</I>
        <O>(</O>
        <Of f="S">
          <T>lower</T>
        </Of>
        <O>−</O>
        <Of f="S">
          <T>upper</T>
        </Of>
        <O>)</O>
        <O>−</O>
        <I>log</I>
        <Of f="S">
          <T>entry</T>
        </Of>
        <O>]</O>
      </Formula>
    </>
  ),
  where:
    "η: scale, hours by which 63.2 % are over the limit. β: shape, over 1 means wearing out. An exact life counts by its density, one still good by S at its last good look.",
  assumes:
    "Over limit happened somewhere between the last good look and the look that found it. Components come off for other reasons without regard to their wear; early removals are counted as over limit, so that caution does not flatter the part. A life under way when the records of its aircraft begin had its last look before them as long before the first one in them as looks were apart that year, at the latest the day they begin; where that is at no hours, it is followed from new. Where the roster has it fitted before, that tells its hours on that day.",
  source:
    "Likelihood for censored lives with late entry: Meeker, Escobar and Pascual, Statistical Methods for Reliability Data, second edition. Bounds: profile likelihood ratio.",
  fails: "No event, one event, or all at one time: the likelihood has no single maximum.",
  shownThen:
    "No curve; the reason stands in its place. What is decided on then comes from a given-shape Weibull, and rules that need the fit fail.",
};

const curve: Method = {
  name: "Curve without a model",
  id: "curve",
  gives: "Beside every fit, the survival that the lives give by themselves.",
  formula: (
    <Formula says="S of t equals the product over event times up to t of one minus events over number at risk">
      <Of f="S">{t}</Of>
      <O>=</O>
      <Over
        sign="∏"
        range={
          <>
            <Sub base={t} sub={<I>i</I>} />
            <O>≤</O>
            {t}
          </>
        }
      />
      <O>(</O>
      <N>1</N>
      <O>−</O>
      <Frac over={<Sub base={<I>d</I>} sub={<I>i</I>} />} under={<Sub base={<I>n</I>} sub={<I>i</I>} />} />
      <O>)</O>
    </Formula>
  ),
  where:
    "d: events at that time; n: lives then under observation. Where events are only known to lie between two looks, the self-consistent estimate takes its place, climbed to its true maximum (no step of it moves any mass by more than 1e-9).",
  assumes: "Nothing about the shape of the curve.",
  source:
    "Kaplan and Meier, JASA 53 (1958) 457–481; for intervals Turnbull, JRSS B 38 (1976) 290–295. Bounds on the log-log scale.",
  fails:
    "No event; or, with late entry, hours at which nobody is at risk who is also seen later: the product would stay at nothing for ever.",
  shownThen:
    "No steps are drawn; or the curve starts after those hours, given that they were reached, and says how many events it leaves out.",
};

const wear: Method = {
  name: "Wear, reported",
  id: "wear",
  gives: "A line for each group, with a line of its own for each component around it (REML).",
  formula: (
    <Formula says="wear of component i at look j equals alpha plus u i, plus beta plus v i times hours i j, plus e i j">
      <Sub base={<I>w</I>} sub={ij} />
      <O>=</O>
      <O>(</O>
      <I>a</I>
      <O>+</O>
      <Sub base={<I>u</I>} sub={<I>i</I>} />
      <O>)</O>
      <O>+</O>
      <O>(</O>
      <I>b</I>
      <O>+</O>
      <Sub base={<I>v</I>} sub={<I>i</I>} />
      <O>)</O>
      <Sub base={<I>h</I>} sub={ij} />
      <O>+</O>
      <Sub base={<I>e</I>} sub={ij} />
    </Formula>
  ),
  where:
    "w: wear, mm; h: flight hours; u, v: how the component differs from its group; e: scatter of a reading.",
  assumes: "Wear in proportion to hours; u and v normal together; scatter alike at every look.",
  source:
    "Laird and Ware, Biometrics 38 (1982) 963–974; Pinheiro and Bates, Mixed-Effects Models in S and S-PLUS (2000).",
  fails:
    "Fewer than two components with readings at different hours; the spread between components can't be told from the scatter.",
  shownThen: "A simpler spread is fitted, and the page says so; else no line, with the reason.",
};

const decision: Method = {
  name: "Wear, decided on",
  id: "decided",
  gives:
    "The spread of wear rates between components, corrected for the fast ones that are gone before the records begin.",
  formula: (
    <Formula says="likelihood of a component equals the integral over rates b of f of b times the likelihood of its readings given b, divided by the chance of being below R at its entry look">
      <Sub base={<I>L</I>} sub={<I>i</I>} />
      <O>=</O>
      <Frac
        over={
          <>
            <O>∫</O>
            <Of f="f">
              <I>b</I>
            </Of>
            <I>p</I>
            <O>(</O>
            <Sub base={<T>readings</T>} sub={<I>i</I>} />
            <O>|</O>
            <I>b</I>
            <O>)</O>
            <I>d</I>
            <I>b</I>
          </>
        }
        under={
          <>
            <I>P</I>
            <O>(</O>
            <T>below </T>
            <I>R</I>
            <T> at entry</T>
            <O>)</O>
          </>
        }
      />
    </Formula>
  ),
  where:
    "b: a component's own rate, over zero; f: lognormal, or normal above zero, whichever gives the greater risk where the data don't tell them apart; R: replace-at limit.",
  assumes:
    "A component keeps its rate while it stays in its group. Survivors are slow: each late component is divided by its chance of having got that far.",
  source: "Marginal likelihood by one-dimensional quadrature; late entry as truncation, as for lives.",
  fails:
    "Fewer than 10 components; over a tenth of the removals by wear at a look lack the reading that led to them.",
  shownThen: "No bound from wear, hence no extension.",
};

export const MODEL_METHODS: readonly Method[] = [weibull, curve, wear, decision];
