/** Which components of a very large group its models see, as method.html sets it out. */
import { Formula, I, O, Over, Sub, T } from "../math.tsx";
import type { Method } from "./method-entry.tsx";

const a = <I>a</I>;

const veryLarge: Method = {
  name: "Very large groups",
  id: "very-large-groups",
  gives:
    "In a group of more components than the settings name, the components that fits, bounds and comparisons stand on. Everything counted, and everything said of a single component (act now, the watch list), takes all of them.",
  formula: (
    <Formula says="The sum over aircraft taken of their components is at least m">
      <Over sign="∑" range={<T>taken</T>} />
      <Sub base={<I>n</I>} sub={a} />
      <O>≥</O>
      <I>m</I>
    </Formula>
  ),
  where:
    "n: components of aircraft a in the group; m: 1000, unless the fleet file sets another number. Aircraft are taken whole, since components of one are alike, in the order of the SHA-256 of their names (UTF-8), until there are enough; a component without an aircraft stands for itself, under its serial. A component that changed aircraft belongs to the first.",
  assumes:
    "What an aircraft is called has nothing to do with how its components wear. Were names given by base or by age, their hash would still mix them.",
  source:
    "Sampling of whole clusters: any textbook of survey sampling, from memory. Bounds are those of the components taken, and wider than all would give. In seven simulated groups of 1157 to 4264 components, 1000 of them left upper bounds of the share over the limit 1 % to 6 % above the estimates, and of the unsafe risk 6 % to 34 %; all components 1 % to 6 %, and 2 % to 15 %.",
  fails:
    "A defect of fewer than about three components in a thousand may have none among those taken; finds, failures and act now still show each.",
  shownThen:
    "The first sentence of what is not known says how many the fits stand on; run.json has it as modelled_components.",
};

export const VERY_LARGE_METHODS: readonly Method[] = [veryLarge];
