/**
 * Where and when each component was fitted, from the `installed` export: hours at installation, base, aircraft now.
 */
import type { Day } from "../units.ts";
import { type ReadExports, wordAt } from "./exports.ts";
import type { RowRef } from "./life.ts";

export interface Fitting {
  readonly installedOn: Day;
  /** Component hours at installation; airframe hours where the wear export counts those. */
  readonly hoursAtInstallation: number;
  readonly aircraft: string;
  readonly position: string;
  /** null: the roster records no base. */
  readonly environment: string | null;
  readonly row: RowRef;
}

export interface FittingIndex {
  /** Fittings of a component, earliest first. */
  of(component: number): readonly Fitting[];
  /** The latest fitting on or before `day`, or null. */
  at(component: number, day: Day): Fitting | null;
  /** Hours since fitted from airframe hours; NaN where no fitting is known. */
  sinceFitted(component: number, day: Day, airframeHours: number): number;
}

/** Index of the roster rows up to the as-of day. Without an `installed` export it answers that nothing is known. */
export function indexFittings(exports: ReadExports, asOf: Day): FittingIndex {
  const byComponent = new Map<number, Fitting[]>();
  const { installed } = exports;
  for (let row = 0; row < (installed?.rows ?? 0); row++) {
    const fitting = fittingOf(installed!, row);
    if (fitting.installedOn > asOf) continue;
    const component = installed!.component[row]!;
    const list = byComponent.get(component);
    if (list) list.push(fitting);
    else byComponent.set(component, [fitting]);
  }
  for (const list of byComponent.values()) list.sort((a, b) => a.installedOn - b.installedOn);
  const of = (component: number): readonly Fitting[] => byComponent.get(component) ?? [];
  const at = (component: number, day: Day) => of(component).findLast((f) => f.installedOn <= day) ?? null;
  return {
    of,
    at,
    sinceFitted(component, day, airframeHours) {
      const fitting = at(component, day);
      return fitting === null ? Number.NaN : airframeHours - fitting.hoursAtInstallation;
    },
  };
}

function fittingOf(installed: NonNullable<ReadExports["installed"]>, row: number): Fitting {
  return {
    installedOn: installed.installedOn[row]!,
    hoursAtInstallation: installed.hoursAtInstallation[row]!,
    aircraft: wordAt(installed.aircraft, row) ?? "",
    position: wordAt(installed.position, row) ?? "",
    environment: wordAt(installed.environment, row),
    row: { kind: "installed", file: installed.file[row]!, line: installed.line[row]! },
  };
}
