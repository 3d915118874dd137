/** Written by `npm run study -- --publish`; null: this version has not been studied yet, and method.html says nothing of it. */
import type { StudyTable } from "./study-table.ts";

export const STUDY: StudyTable | null = null;
