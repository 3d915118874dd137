/** An error on its way from one thread to another: its class gets lost there, and with it what a person can do about it. */
import { type ProblemCode, RotorwearError } from "../problems.ts";

/** Plain data. */
export interface ToldError {
  /** Of an error that a person can mend; null: a bug. */
  readonly known: { readonly code: ProblemCode; readonly exitCode: number } | null;
  readonly message: string;
  readonly stack: string | null;
}

/** What of an error can be told. */
export function toldError(error: unknown): ToldError {
  const known = error instanceof RotorwearError ? { code: error.code, exitCode: error.exitCode } : null;
  const stack = error instanceof Error ? (error.stack ?? null) : null;
  return { known, message: error instanceof Error ? error.message : String(error), stack };
}

/** The error again, of the class that its exit code comes from. */
export function errorTold({ known, message, stack }: ToldError): Error {
  // The message of a known one has its code already.
  const error =
    known === null
      ? new Error(message)
      : new RotorwearError(known.code, known.exitCode, message.replace(/ \[[A-Z-]+\]$/, ""));
  if (stack !== null) error.stack = stack;
  return error;
}
