/**
 * Vega's SVG made small without changing the picture: groups that say nothing are opened, leaves that draw nothing are
 * dropped, what neighbours have in common is said once, and coordinates carry a tenth of a pixel. A page of seventy
 * charts is half as large for it.
 */

interface SvgNode {
  readonly tag: string;
  readonly attributes: ReadonlyMap<string, string>;
  /** Nodes, or text as it stands in the markup. */
  readonly children: readonly (SvgNode | string)[];
}

/** Names for scripts and screen readers, which the drawing as a whole has already; the page's type is inherited. */
const UNSAID = /^(?:role|class|aria-.*|pointer-events|font-family)$/;
/** Attributes that a group hands down to what is in it, unlike opacity and transforms. */
const HANDED_DOWN = [
  "fill",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linejoin",
  "font-size",
  "font-weight",
  "text-anchor",
] as const;

/** The markup inside an `<svg>`, compacted. Throws where tags don't match, which vega's always do. */
export function compactSvg(inner: string): string {
  const root = parse(inner);
  return withRuns(root.children.flatMap(opened)).map(written).join("");
}

function parse(markup: string): SvgNode {
  const stack: { tag: string; attributes: ReadonlyMap<string, string>; children: (SvgNode | string)[] }[] = [
    { tag: "", attributes: new Map(), children: [] },
  ];
  for (const [token] of markup.matchAll(/<[^>]+>|[^<]+/g)) {
    const open = stack[stack.length - 1]!;
    if (token.startsWith("</")) {
      const closed = stack.pop()!;
      const parent = stack.at(-1);
      if (closed.tag !== token.slice(2, -1) || parent === undefined)
        throw new Error(`compactSvg: ${token} closes <${closed.tag}>`);
      parent.children.push(closed);
    } else if (token.startsWith("<")) {
      const node = { tag: /^<([\w-]+)/.exec(token)![1]!, attributes: attributesOf(token), children: [] };
      if (token.endsWith("/>")) open.children.push(node);
      else stack.push(node);
    } else {
      open.children.push(token);
    }
  }
  if (stack.length !== 1) throw new Error(`compactSvg: <${stack.at(-1)!.tag}> is not closed`);
  return stack[0]!;
}

function attributesOf(tag: string): Map<string, string> {
  const attributes = new Map<string, string>();
  for (const [, name, value] of tag.matchAll(/ ([\w:-]+)="([^"]*)"/g)) {
    const says = !UNSAID.test(name!) && !(name === "opacity" && value === "1");
    const nowhere = name === "transform" && value === "translate(0,0)";
    if (says && !nowhere) attributes.set(name!, rounded(name!, value!));
  }
  return attributes;
}

const COORDINATES = /^(?:d|transform|x|y|x2|y2|width|height)$/;

/** Long paths are where the bytes are; a symbol keeps a hundredth, or its circle would turn oval. */
const SYMBOL = 120;

function rounded(name: string, value: string): string {
  const symbol = name === "d" && value.length < SYMBOL;
  const per = !COORDINATES.test(name) ? 1000 : symbol ? 100 : 10;
  return value.replace(/-?\d+\.\d{2,}(?:e-?\d+)?/g, (digits) => {
    const number = Number(digits);
    // Away from zero at a half, so that what is symmetrical stays so; + 0 makes no difference but of -0.
    return String((Math.sign(number) * Math.round(Math.abs(number) * per)) / per + 0);
  });
}

const drawsNothing = (node: SvgNode): boolean =>
  node.attributes.get("display") === "none" ||
  (node.tag === "path" && !node.attributes.has("fill") && !node.attributes.has("stroke"));

/** A child without the groups that only hold it. */
function opened(child: SvgNode | string): (SvgNode | string)[] {
  if (typeof child === "string") return [child];
  if (drawsNothing(child)) return [];
  if (child.tag !== "g") return [{ ...child, children: child.children.flatMap(opened) }];
  const children = child.children.flatMap(opened);
  if (child.attributes.size === 0 || children.length === 0) return children;
  return [{ ...child, children: withRuns(children) }];
}

const isLeaf = (child: SvgNode | string): child is SvgNode =>
  typeof child !== "string" && /^(?:path|line|text|rect)$/.test(child.tag);

const lookOf = (node: SvgNode): string =>
  HANDED_DOWN.map((name) => node.attributes.get(name) ?? "").join("|");

/** Neighbours that look alike, in a group that says how. */
function withRuns(children: readonly (SvgNode | string)[]): (SvgNode | string)[] {
  const grouped: (SvgNode | string)[] = [];
  for (let first = 0; first < children.length; ) {
    const child = children[first]!;
    let next = first + 1;
    if (isLeaf(child)) {
      const look = lookOf(child);
      while (next < children.length && isLike(children[next]!, look)) next += 1;
    }
    const run = children.slice(first, next);
    grouped.push(...(run.length > 1 ? [runOf(run as SvgNode[])] : run));
    first = next;
  }
  return grouped;
}

const isLike = (child: SvgNode | string, look: string): boolean => isLeaf(child) && lookOf(child) === look;

function runOf(run: readonly SvgNode[]): SvgNode {
  const said = HANDED_DOWN.filter((name) => run[0]!.attributes.has(name));
  return {
    tag: "g",
    attributes: new Map(said.map((name) => [name, run[0]!.attributes.get(name)!])),
    children: run.map((leaf) => ({
      ...leaf,
      attributes: new Map([...leaf.attributes].filter(([name]) => !said.some((one) => one === name))),
    })),
  };
}

function written(node: SvgNode | string): string {
  if (typeof node === "string") return node;
  const attributes = [...node.attributes].map(([name, value]) => ` ${name}="${value}"`).join("");
  if (node.children.length === 0) return `<${node.tag}${attributes}/>`;
  return `<${node.tag}${attributes}>${node.children.map(written).join("")}</${node.tag}>`;
}
