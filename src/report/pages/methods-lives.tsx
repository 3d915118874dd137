/** The methods about lives beside the main fit, as method.html sets them out. */
import { Formula, Frac, I, N, O, Of, Over, Power, Sub, T } from "../math.tsx";
import type { Method } from "./method-entry.tsx";

const t = <I>t</I>;
const i = <I>i</I>;
const shape = <I>β</I>;
const atRisk = <Sub base={<I>n</I>} sub={i} />;
const upToT = (
  <>
    <Sub base={t} sub={i} />
    <O>≤</O>
    {t}
  </>
);

const givenShape: Method = {
  name: "Lives with few events",
  id: "given-shape",
  gives:
    "With 0 to 2 over-limit events, or no free fit: a given-shape Weibull, its shape taken through the whole range from 1 to 8, each risk the worst of them.",
  formula: (
    <Formula says="eta lower to the power beta equals twice the sum over lives of hours to the power beta less entry to the power beta, divided by the chi squared quantile at C with 2 r plus 2 degrees of freedom">
      <Power base={<Sub base={<I>η</I>} sub={<T>lower</T>} />} power={shape} />
      <O>=</O>
      <Frac
        over={
          <>
            <N>2</N>
            <Over sign="∑" range={<T>lives</T>} />
            <O>(</O>
            <Power base={t} power={shape} />
            <O>−</O>
            <Power base={<T>entry</T>} power={shape} />
            <O>)</O>
          </>
        }
        under={
          <>
            <Power base={<I>χ</I>} power={<N>2</N>} />
            <O>(</O>
            <I>C</I>
            <O>;</O>
            <N>2</N>
            <I>r</I>
            <O>+</O>
            <N>2</N>
            <O>)</O>
          </>
        }
      />
    </Formula>
  ),
  where:
    "r: events; t: last good look; C: confidence. With r = 0 and every life seen to the same hours it is the success run: n lives show R = (1 − C)^(1/n).",
  assumes:
    "The shape lies between 1 (constant risk) and 8. Lives of one aircraft count as independent: the bound carries no aircraft effect, and the officer's page says so.",
  source:
    "AFWAL-TR-83-2079 (1983) for Weibulls of given shape; Epstein and Sobel, JASA 48 (1953) 486–502, for the bound.",
  fails: "No life was looked at after it came under observation.",
  shownThen: "No line; “not enough evidence”.",
};

const fewOrAlike: Method = {
  name: "Bounds from few events and from aircraft that are alike",
  id: "calibrated",
  gives:
    "The likelihood drop that a bound allows, made larger where the chi-squared value would be too small.",
  formula: (
    <Formula says="the drop is the quantile of the likelihood ratio at the truth over simulated lives, times the variance clustered by aircraft over the plain one, times the square of Student's t over the normal quantile">
      <T>drop</T>
      <O>=</O>
      <Sub base={<I>q</I>} sub={<I>C</I>} />
      <O>(</O>
      <T>simulated</T>
      <O>)</O>
      <O>·</O>
      <I>max</I>
      <O>(</O>
      <N>1</N>
      <O>,</O>
      <Frac
        over={<Sub base={<I>V</I>} sub={<T>aircraft</T>} />}
        under={<Sub base={<I>V</I>} sub={<T>plain</T>} />}
      />
      <O>)</O>
      <O>·</O>
      <Power
        base={
          <>
            <O>(</O>
            <Frac over={<Sub base={t} sub={<I>G−1</I>} />} under={<I>z</I>} />
            <O>)</O>
          </>
        }
        power={<N>2</N>}
      />
    </Formula>
  ),
  where:
    "q: from 400 seeded draws of lives under the looks that were made, below 50 lives or 30 events; else the chi-squared quantile. V: variance of the risk; G: aircraft. Beside it whole aircraft are resampled, and of the two bounds the wider counts.",
  assumes:
    "The fitted Weibull is near enough to the truth to draw from; aircraft are independent of each other.",
  source:
    "Davison and Hinkley, Bootstrap Methods (1997), 3.8 and 5.4; Lin and Wei, JASA 84 (1989) 1074–1078; Chandler and Bate, Biometrika 94 (2007) 167–183.",
  fails: "Fewer than 10 lives of 3 aircraft.",
  shownThen: "No upper bound, hence no extension.",
};

const incidence: Method = {
  name: "Failure modes together",
  id: "modes",
  gives:
    "The chance of each failure mode by some hours when the others take components off too; each mode's own Weibull treats the others as censoring.",
  formula: (
    <Formula says="F m of t equals the sum over event times up to t of S just before times events of mode m over number at risk">
      <Sub base={<I>F</I>} sub={<I>m</I>} />
      <O>(</O>
      {t}
      <O>)</O>
      <O>=</O>
      <Over sign="∑" range={upToT} />
      <I>S</I>
      <O>(</O>
      <Sub base={t} sub={<I>i−1</I>} />
      <O>)</O>
      <Frac over={<Sub base={<I>d</I>} sub={<I>m,i</I>} />} under={atRisk} />
    </Formula>
  ),
  where:
    "S: share with no event of any mode; d: events of mode m found at that time; n: components under observation. Hours are those at which each came to light. Stated at the greatest age with 10 components of 3 aircraft at risk. Bounds: pointwise, symmetric in log(−log F), from the multinomial variance of the events at each time.",
  assumes:
    "A removal that is no failure, or where the shop found no fault, says nothing about when a failure would have come. For the bounds, components are independent of each other: no aircraft effect widens them, and no decision rests on them.",
  source:
    "Aalen and Johansen, Scand. J. Statist. 5 (1978) 141–150; bounds: Kalbfleisch and Prentice, The Statistical Analysis of Failure Time Data, second edition (2002), chapter 8.",
  fails: "Nothing was found over the limit or came off for a cause.",
  shownThen: "That sentence in place of the table. A mode without a fit keeps its count, with the reason.",
};

const comparison: Method = {
  name: "Lives compared",
  id: "lives-compared",
  gives:
    "How many times as long components last with one standard as with another, or in one environment as in another.",
  formula: (
    <Formula says="log life equals x transposed b plus log of exponential variate over beta; the ratio of lives is e to the b">
      <I>log</I>
      {t}
      <O>=</O>
      <Sub base={<I>b</I>} sub={<N>0</N>} />
      <O>+</O>
      <Over sign="∑" range={<I>k</I>} />
      <Sub base={<I>b</I>} sub={<I>k</I>} />
      <Sub base={<I>x</I>} sub={<I>k</I>} />
      <O>+</O>
      <Frac over={<N>1</N>} under={shape} />
      <I>W</I>
      <O>,</O>
      <T> ratio </T>
      <O>=</O>
      <Power base={<I>e</I>} power={<Sub base={<I>b</I>} sub={<I>k</I>} />} />
    </Formula>
  ),
  where:
    "x: 1 at a level, else 0; W: smallest extreme value. Bounds from the wider of the plain and the aircraft-clustered standard error; tests by likelihood ratio. Removals for cause, whose hours are known, by the log-rank test.",
  assumes:
    "One shape for the groups compared: that is tested against a shape for each, and said where it fails. Only days on which both standards were under observation are used: a life under way then enters at its last look before.",
  source:
    "Lawless, Statistical Models and Methods for Lifetime Data, second edition (2003), 6.3; log-rank: Klein and Moeschberger (2003), 7.3.",
  fails:
    "Fewer than 5 over-limit events of the two together; a group without any; standards never there at one time. The log-rank test can't take events known by intervals.",
  shownThen: "That the two can't be compared, and why.",
};

const checks: Method = {
  name: "Is the life fit right?",
  id: "life-checks",
  gives:
    "What the best other distribution would make of the decision's risk; where the fitted curve leaves the bounds of the curve without a model; which lives and aircraft move the 10 % life most.",
  formula: (
    <Formula says="change equals risk of the alternative over risk of the Weibull, less one; AIC equals twice the number of parameters minus twice log likelihood">
      <T>change</T>
      <O>=</O>
      <Frac
        over={
          <Of f="risk">
            <T>alternative</T>
          </Of>
        }
        under={
          <Of f="risk">
            <T>Weibull</T>
          </Of>
        }
      />
      <O>−</O>
      <N>1</N>
      <O>,</O>
      <T> AIC </T>
      <O>=</O>
      <N>2</N>
      <I>k</I>
      <O>−</O>
      <N>2</N>
      <I>log</I>
      <I>L</I>
    </Formula>
  ),
  where:
    "Alternatives: lognormal and exponential; k: parameters. The fit and its curve agree where no more points lie outside than chance and two standard errors allow. Influence: the fit again without each.",
  assumes: "Nothing that grows with the count of lives: a check does not fail merely because there are many.",
  source: "AIC: Akaike, IEEE Trans. Automatic Control 19 (1974) 716–723.",
  fails: "No other distribution can be fitted, or the lives give no curve with bounds.",
  shownThen: "That sentence; the evidence rule “fit” then fails.",
};

const shortcuts: Method = {
  name: "Shortcuts, and how they mislead",
  id: "shortcuts",
  gives:
    "What the 10 % life would be if events were taken at the middle of their interval, or at the look that found them; if late entry were ignored; if hours flown after the last look counted as good.",
  formula: (
    <Formula says="error equals 10 percent life of the shortcut over 10 percent life, less one">
      <T>error</T>
      <O>=</O>
      <Frac over={<Sub base={t} sub={<T>10 %, shortcut</T>} />} under={<Sub base={t} sub={<T>10 %</T>} />} />
      <O>−</O>
      <N>1</N>
    </Formula>
  ),
  where: "Each is the same Weibull fit to the lives as the shortcut would write them.",
  assumes: "Nothing more than the fit itself. None of them is used for anything.",
  source: "The project's own comparison; tried on lives whose truth is known.",
  fails: "One of the two fits does not exist.",
  shownThen: "That there is nothing to compare; shortcuts that change nothing are left out.",
};

export const LIFE_METHODS: readonly Method[] = [
  givenShape,
  fewOrAlike,
  incidence,
  comparison,
  checks,
  shortcuts,
];
