/** The risks and counts that an interval is judged by, as method.html sets them out. */
import { Formula, Frac, I, N, O, Of, Over, Power, Sub, T } from "../math.tsx";
import type { Method } from "./method-entry.tsx";

const late = <I>T′</I>;
const looks = (
  <Of f="n">
    <I>b</I>
  </Of>
);

const overLimit: Method = {
  name: "Over limit at a look",
  id: "over-limit",
  gives:
    "Of the looks made at one interval, the share that finds the component at or over the replace-at limit: from lives and from wear; the worse counts.",
  formula: (
    <Formula says="share equals the largest over K of one minus S of K T prime, over the sum for k below K of S of k T prime">
      <T>share</T>
      <O>=</O>
      <Over sign="max" range={<I>K</I>} />
      <Frac
        over={
          <>
            <N>1</N>
            <O>−</O>
            <Of f="S">
              <I>K</I>
              {late}
            </Of>
          </>
        }
        under={
          <>
            <Over
              sign="∑"
              range={
                <>
                  <I>k</I>
                  <O>&lt;</O>
                  <I>K</I>
                </>
              }
            />
            <Of f="S">
              <I>k</I>
              {late}
            </Of>
          </>
        }
      />
    </Formula>
  ),
  where:
    "T′: the interval lengthened by the task's tolerance, since looks are flown late. K: up to the greatest age with 10 components of 3 aircraft at risk. The long run, one over the sum of all S(kT′), counts where it is greater; lives of which fewer than 10 % are over the limit by that age are not asked about it where there are wear readings, since the worst shape would let all of them fail on the day after.",
  assumes: "A component over the limit is replaced when found; looks come at the interval.",
  source: "Renewal argument: finds over looks, from new to the K-th look.",
  fails: "Neither lives nor wear could be fitted.",
  shownThen: "A dash; the approved interval stays.",
};

const unsafe: Method = {
  name: "Unsafe before seen",
  id: "unsafe",
  gives:
    "A component reaches the replace-at limit R just after a look. How likely is it that it passes the unsafe-at limit U before any later look sees it?",
  formula: (
    <>
      <Formula says="n of b equals the floor of M over b times T prime, M equals U minus R minus 1.645 times the scatter">
        {looks}
        <O>=</O>
        <O>⌊</O>
        <Frac
          over={<I>M</I>}
          under={
            <>
              <I>b</I>
              {late}
            </>
          }
        />
        <O>⌋</O>
        <O>,</O>
        <I>M</I>
        <O>=</O>
        <I>U</I>
        <O>−</O>
        <I>R</I>
        <O>−</O>
        <N>1.645</N>
        <T> scatter</T>
      </Formula>
      <Formula says="risk equals the sum over n of P of n times one minus d to the power n">
        <T>risk</T>
        <O>=</O>
        <Over sign="∑" range={<I>n</I>} />
        <Of f="P">
          <I>n</I>
        </Of>
        <Power
          base={
            <>
              <O>(</O>
              <N>1</N>
              <O>−</O>
              <I>d</I>
              <O>)</O>
            </>
          }
          power={<I>n</I>}
        />
      </Formula>
    </>
  ),
  where:
    "b: wear rate, times the beyond-limit factor; n: looks between R and U, at most 4; d: chance that one look is properly made and sees it.",
  assumes:
    "Misses are independent up to four looks, and not at all beyond. The spread of rates is as fitted, or worse: the worst of three tails counts.",
  source: "NAVAIR 00-25-403, on-condition task intervals: with one rate, n = ln(acceptable) / ln(1 − d).",
  fails: "No unsafe-at limit or no chance of detection is given; fewer than 10 components.",
  shownThen: "“Not computed”; the rules that stand on it fail.",
};

const counts: Method = {
  name: "Counted",
  id: "counted",
  gives:
    "What was found at looks near the present interval, and functional failures by flight hours: vetoes, never forecasts.",
  formula: (
    <Formula says="lower and upper bound p of x in n: the chance of x or more, and of x or fewer, is half of one minus C">
      <I>P</I>
      <O>(</O>
      <I>X</I>
      <O>≥</O>
      <I>x</I>
      <O>|</O>
      <Sub base={<I>p</I>} sub={<T>lower</T>} />
      <O>)</O>
      <O>=</O>
      <I>P</I>
      <O>(</O>
      <I>X</I>
      <O>≤</O>
      <I>x</I>
      <O>|</O>
      <Sub base={<I>p</I>} sub={<T>upper</T>} />
      <O>)</O>
      <O>=</O>
      <Frac
        over={
          <>
            <N>1</N>
            <O>−</O>
            <I>C</I>
          </>
        }
        under={<N>2</N>}
      />
    </Formula>
  ),
  where:
    "X: binomial for looks; Poisson for failures in flight hours, there with one minus C on each side instead of half of it, so that each bound by itself holds at C. C: the confidence.",
  assumes:
    "Finds at different looks are independent; ages looked at are shown because a young fleet finds little.",
  source: "Clopper and Pearson, Biometrika 26 (1934) 404–413; Garwood, Biometrika 28 (1936) 437–442.",
  fails: "No look, or no flight hours.",
  shownThen: "The count alone, without a bound.",
};

const bounds: Method = {
  name: "Bounds",
  id: "bounds",
  gives: "One-sided bounds of a risk: the worst that still fits the data, at the confidence of the settings.",
  formula: (
    <Formula says="two times log likelihood at best minus log likelihood is at most the chi squared quantile with one degree of freedom at two C minus one">
      <N>2</N>
      <O>(</O>
      <I>log</I>
      <Sub base={<I>L</I>} sub={<T>best</T>} />
      <O>−</O>
      <I>log</I>
      <I>L</I>
      <O>)</O>
      <O>≤</O>
      <Sub base={<Power base={<I>χ</I>} power={<N>2</N>} />} sub={<N>1</N>} />
      <O>(</O>
      <N>2</N>
      <I>C</I>
      <O>−</O>
      <N>1</N>
      <O>)</O>
    </Formula>
  ),
  where:
    "A risk's bound is its greatest value over all parameters that satisfy this. It widens where components of one aircraft are alike. On the pages every bound is rounded outward, an upper one up and a lower one down, so that what is written still bounds.",
  assumes:
    "Enough data for the likelihood ratio to be about chi-squared; components of one aircraft are not independent.",
  source: "Profile likelihood: Meeker, Escobar and Pascual, as above.",
  fails: "The likelihood stays flat: no largest value.",
  shownThen: "“No upper bound”, which no acceptable risk can satisfy.",
};

const goBack: Method = {
  name: "Go-back number",
  id: "go-back",
  gives: "How many over-limit finds after a change refute the share it was granted on.",
  formula: (
    <Formula says="smallest x such that the chance of x or more finds in n looks at share p is at most one minus C">
      <T>smallest </T>
      <I>x</I>
      <T> with </T>
      <I>P</I>
      <O>(</O>
      <I>X</I>
      <O>≥</O>
      <I>x</I>
      <O>|</O>
      <I>n</I>
      <O>,</O>
      <I>p</I>
      <O>)</O>
      <O>≤</O>
      <N>1</N>
      <O>−</O>
      <I>C</I>
    </Formula>
  ),
  where:
    "Stage j: n is the first 60, 120, 240, … looks at the new interval (the looks that the fleet file asks for, doubled each time) and 1 − C is divided by 2^j, so that all stages together raise a false alarm at most 1 − C of the time. p: the share promised: as the decision names it, else the acceptable one. Beside it stands what a Weibull of the lives up to the change predicts for the very looks made since.",
  assumes:
    "Finds at different looks are independent. A find is a look with a number or the words over the limit, a removal as worn with no number read, a failure in service by wear (also before its look was due), or an early removal at about the interval. A look repeated soon after is one look, the worse of the two. The direct count at the present interval counts the same.",
  source: "Binomial tail, exact; the division by stages is Bonferroni's.",
  fails: "Too few looks for any count to be that rare.",
  shownThen: "The number is greater than the looks: they can't refute it.",
};

export const RISK_METHODS: readonly Method[] = [overLimit, unsafe, counts, bounds, goBack];
