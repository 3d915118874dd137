import { availableParallelism } from "node:os";

/** One thread hands out the work and puts it together; beyond four, it is what the others wait for. */
const MOST_THREADS = 4;

/** How many threads a command uses where nobody says. */
export const defaultThreads = (): number => Math.min(availableParallelism(), MOST_THREADS);
