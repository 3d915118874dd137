/**
 * Decimal mark and date order of each file, decided on the distinct texts of whole columns.
 *
 * A file speaks for itself; one that has nothing decisive follows the other files of its kind where these agree; one
 * that can be read two ways and has nobody to follow is an error that asks. A few texts against a clear majority don't
 * turn it: they are refused cell by cell.
 */
import { ExportError } from "../problems.ts";

/** How many distinct texts of a file speak for each of two readings, and how many could be either with other values. */
export interface Votes {
  first: number;
  second: number;
  ambiguous: number;
}

export interface Choice<T> {
  readonly value: T;
  readonly evidence: string;
}

/** What is decided: the names of the two readings and the setting that decides it by hand. */
export interface Question<T> {
  readonly what: string;
  readonly setting: string;
  readonly first: T;
  readonly second: T;
  readonly describe: (value: T) => string;
}

/** The minority may be at most a fifth of the texts that decide. */
const CLEAR_MAJORITY = 4;

type Verdict = "first" | "second" | "mixed" | "ambiguous" | "nothing";

function verdict({ first, second, ambiguous }: Votes): Verdict {
  if (first > 0 || second > 0) {
    if (first >= CLEAR_MAJORITY * second) return "first";
    if (second >= CLEAR_MAJORITY * first) return "second";
    return "mixed";
  }
  return ambiguous > 0 ? "ambiguous" : "nothing";
}

/**
 * @param paths  the files of one kind
 * @param votes  of each file
 * @param sample an ambiguous text of a file, for the message
 * Throws ExportError E-DIALECT where a file is truly ambiguous.
 */
export function decide<T>(
  question: Question<T>,
  paths: readonly string[],
  votes: readonly Votes[],
  sample: (file: number) => string,
): Choice<T>[] {
  const verdicts = votes.map(verdict);
  const firsts = verdicts.includes("first");
  const seconds = verdicts.includes("second");
  const others = firsts === seconds ? null : firsts ? "first" : "second";
  return verdicts.map((own, file) => {
    const { first, second, ambiguous } = votes[file]!;
    if (own === "first" || own === "second") {
      const against = own === "first" ? second : first;
      const value = own === "first" ? question.first : question.second;
      const texts = own === "first" ? first : second;
      const but = against === 0 ? "none against" : `${against} against, refused cell by cell`;
      return {
        value,
        evidence: `${question.what} ${question.describe(value)}: ${texts} distinct texts can only be read so, ${but}`,
      };
    }
    if (own === "nothing")
      return { value: question.first, evidence: `${question.what}: nothing depends on it in this file` };
    if (own === "ambiguous" && others !== null) {
      const value = question[others];
      return {
        value,
        evidence: `${question.what} ${question.describe(value)}: as in the other files of this export; ${ambiguous} texts here could be read either way`,
      };
    }
    const both = `${question.describe(question.first)} or ${question.describe(question.second)}`;
    const why =
      own === "mixed"
        ? `${first} texts can only be ${question.describe(question.first)}, ${second} only ${question.describe(question.second)}`
        : `every text that tells, such as ${JSON.stringify(sample(file))}, can be read both ways`;
    throw new ExportError(
      "E-DIALECT",
      `${paths[file]}: ${question.what}: ${both}? ${why}: set ${question.setting} under format in the fleet file`,
    );
  });
}
