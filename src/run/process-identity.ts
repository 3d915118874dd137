/**
 * What tells a running process from a later one that was given the same number. Without it, a lock left by a run that
 * died before the machine was restarted could be taken for a live one for ever.
 */
import { readFileSync } from "node:fs";

/**
 * On Linux, the boot's id and the process's start in ticks since that boot: no wall clock, so a clock that jumps changes
 * nothing. Null for a process that has ended, and on other systems: there only the process's number is compared.
 */
export function processIdentity(pid: number): string | null {
  try {
    const boot = readFileSync("/proc/sys/kernel/random/boot_id", "utf8").trim();
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    // The command's name stands in brackets and may hold anything; the start time is the 20th field after it (proc(5)).
    const fields = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
    // Dead, and not yet buried by whoever started it.
    if (fields[0] === "Z" || fields[0] === "X") return null;
    return `${boot}:${fields[19] ?? ""}`;
  } catch {
    return null;
  }
}
