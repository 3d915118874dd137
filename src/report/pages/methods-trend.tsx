/** The methods about removals over time, as method.html sets them out. */
import { Formula, Frac, I, N, O, Over, Power, Sub, T } from "../math.tsx";
import type { Method } from "./method-entry.tsx";

const i = <I>i</I>;
const chi = (tail: "lower" | "upper") => (
  <>
    <Power base={<I>χ</I>} power={<N>2</N>} />
    <O>(</O>
    {tail === "lower" ? (
      <Frac over={<I>α</I>} under={<N>2</N>} />
    ) : (
      <>
        <N>1</N>
        <O>−</O>
        <Frac over={<I>α</I>} under={<N>2</N>} />
      </>
    )}
    <O>;</O>
    <N>2</N>
    <I>r</I>
    {tail === "upper" ? (
      <>
        <O>+</O>
        <N>2</N>
      </>
    ) : null}
    <O>)</O>
  </>
);

const rate: Method = {
  name: "Removals per 1000 flight hours, and alerts",
  id: "removal-rate",
  gives:
    "A month's rate with exact limits, the count from which a month is over the alert level, and mean flight hours between removals.",
  formula: (
    <Formula says="chi squared at alpha half with 2 r degrees of freedom over 2 T is at most the rate, at most chi squared at one minus alpha half with 2 r plus 2 degrees of freedom over 2 T">
      <Frac
        over={chi("lower")}
        under={
          <>
            <N>2</N>
            <I>T</I>
          </>
        }
      />
      <O>≤</O>
      <T>rate</T>
      <O>≤</O>
      <Frac
        over={chi("upper")}
        under={
          <>
            <N>2</N>
            <I>T</I>
          </>
        }
      />
    </Formula>
  ),
  where:
    "r: removals in T flight hours; the mean between removals is the same turned over. Alert level: the least count that chance exceeds one time in a hundred, at the rate of the window of months before, the month itself left out. An alert: two of the last three months over it. Removals count where their aircraft flew most hours that month.",
  assumes:
    "Removals come one by one at a constant rate within the window. Those without a fault found count as unscheduled, and are left out of the mean of failures.",
  source: "Garwood, Biometrika 28 (1936) 437–442; NIST/SEMATECH e-Handbook 8.4.5.1.",
  fails: "No flying export, a month without hours, or fewer months than the window.",
  shownThen:
    "No rate and no alert level. Without removals and flying exports the rule about open alerts does not apply; where months with removals have no level, it fails. With no removals the mean has a lower limit only.",
};

const trendTests: Method = {
  name: "Is the rate of removals changing?",
  id: "trend-tests",
  gives:
    "Laplace's test, the military handbook's test and a power law, on the fleet's own flight hours in the environment, so that a busy season is no trend.",
  formula: (
    <>
      <Formula says="Laplace z equals the sum of event hours minus n T over 2, divided by T times the square root of n over 12">
        <I>z</I>
        <O>=</O>
        <Frac
          over={
            <>
              <Over sign="∑" range={i} />
              <Sub base={<I>t</I>} sub={i} />
              <O>−</O>
              <I>n</I>
              <I>T</I>
              <O>/</O>
              <N>2</N>
            </>
          }
          under={
            <>
              <I>T</I>
              <msqrt>
                <mrow>
                  <I>n</I>
                  <O>/</O>
                  <N>12</N>
                </mrow>
              </msqrt>
            </>
          }
        />
      </Formula>
      <Formula says="chi squared equals twice the sum of log of T over t, with 2 n degrees of freedom; exponent by maximum likelihood n over that sum, modified n minus one over that sum">
        <Power base={<I>χ</I>} power={<N>2</N>} />
        <O>=</O>
        <N>2</N>
        <I>Σ</I>
        <O>,</O>
        <T> β </T>
        <O>=</O>
        <Frac over={<I>n</I>} under={<I>Σ</I>} />
        <T> (maximum likelihood), </T>
        <Frac
          over={
            <>
              <I>n</I>
              <O>−</O>
              <N>1</N>
            </>
          }
          under={<I>Σ</I>}
        />
        <T> (modified)</T>
      </Formula>
    </>
  ),
  where:
    "t: fleet hours at a removal, its day placed evenly within the month's hours; T: all hours flown; Σ: sum of log(T/t). Three estimates of β go about under one name: the page names the one it shows. β over 1: ever faster; its limits are exact, β·χ²/2n.",
  assumes:
    "Observation ends at a date, not at a removal. Many rows are tested at once: one in twenty shows a trend by luck.",
  source:
    "MIL-HDBK-189 (1981), which prints the maximum-likelihood estimate; NIST/SEMATECH e-Handbook 8.2.3.4 and 8.4.5.2, which prints the modified one; Ascher and Feingold, Repairable Systems Reliability (1984).",
  fails: "Fewer than 3 removals; removals in months without hours can't be placed.",
  shownThen: "“Too few to tell”, and a dash for each test.",
};

const meanCumulative: Method = {
  name: "Removals per aircraft",
  id: "per-aircraft",
  gives:
    "How many unscheduled removals an aircraft has had by a given number of its own hours in an environment.",
  formula: (
    <Formula says="M of t equals the sum over event ages up to t of events over aircraft under observation">
      <I>M</I>
      <O>(</O>
      <I>t</I>
      <O>)</O>
      <O>=</O>
      <Over
        sign="∑"
        range={
          <>
            <Sub base={<I>t</I>} sub={i} />
            <O>≤</O>
            <I>t</I>
          </>
        }
      />
      <Frac over={<Sub base={<I>d</I>} sub={i} />} under={<Sub base={<I>r</I>} sub={i} />} />
    </Formula>
  ),
  where:
    "d: removals at that age; r: aircraft that flew so long there. Bounds on the log scale from the spread between aircraft, whatever the dependence between removals of one.",
  assumes:
    "Aircraft leave an environment without regard to their removals. Hours count from the first month of the flying export.",
  source: "Nelson, Technometrics 37 (1995) 147–157; Lawless and Nadeau, Technometrics 37 (1995) 158–168.",
  fails: "A removal names no aircraft, or one that flew nothing there that month.",
  shownThen: "It is left out and counted; with none left there is no chart.",
};

export const TREND_METHODS: readonly Method[] = [rate, trendTests, meanCumulative];
