/**
 * Layers of a chart, typed so that a channel can only name a field that its rows have: a misspelt field would otherwise
 * compile silently and draw nothing.
 */
import type { TopLevelSpec } from "vega-lite";

export type LayeredSpec = Extract<TopLevelSpec, { layer: unknown }>;
type VegaLayer = LayeredSpec["layer"][number];

export interface ScaleChoice {
  readonly domain?: readonly (number | string)[];
  readonly type?: "linear" | "log" | "point" | "band";
  readonly nice?: false;
  readonly zero?: false;
  readonly padding?: number;
  readonly reverse?: boolean;
}

export interface AxisChoice {
  readonly title: string | null;
  readonly values?: readonly (number | string)[];
  readonly tickCount?: number;
  readonly labelExpr?: string;
  readonly labelOverlap?: boolean | "greedy" | "parity";
  readonly offset?: number;
  readonly ticks?: boolean;
  readonly domain?: boolean;
  readonly labels?: boolean;
  readonly labelLimit?: number;
  readonly labelAngle?: number;
  readonly labelFontWeight?: number;
  readonly grid?: boolean;
  readonly gridColor?: string;
  readonly format?: string;
  readonly titleX?: number;
}

export type Channel<Row> =
  | {
      readonly field: keyof Row & string;
      readonly type?: "quantitative" | "nominal" | "ordinal";
      readonly scale?: ScaleChoice | null;
      readonly axis?: AxisChoice | null;
      readonly legend?: null;
      readonly sort?: null;
    }
  // null, for the order channel: a line keeps the rows' own order.
  | { readonly value: number | string | null };

type ChannelName =
  | "x"
  | "x2"
  | "y"
  | "y2"
  | "text"
  | "opacity"
  | "detail"
  | "stroke"
  | "fill"
  | "shape"
  | "order";

export interface Mark {
  readonly type: "line" | "area" | "rule" | "point" | "text" | "rect" | "tick";
  readonly [property: string]: unknown;
}

export type Encoding<Row> = Readonly<Partial<Record<ChannelName, Channel<Row>>>>;

export interface PlotLayer {
  readonly data: { readonly values: readonly object[] };
  readonly mark: Mark;
  readonly encoding: Encoding<never>;
}

/** One layer: rows, how they are drawn, and which field gives which channel. */
export const plot = <Row extends object>(
  rows: readonly Row[],
  mark: Mark,
  encoding: Encoding<Row>,
): PlotLayer => ({ data: { values: rows }, mark, encoding: encoding as PlotLayer["encoding"] });

/** The layers as vega-lite's types name them; that they compile without a warning is tested for every chart. */
export const asVegaLayers = (layers: readonly PlotLayer[]): VegaLayer[] => layers as unknown as VegaLayer[];

/** A quantitative channel maker: one scale and axis, any numeric field. */
export const onScale =
  (scale: ScaleChoice, axis: AxisChoice | null) =>
  <Field extends string>(field: Field) =>
    ({ field, type: "quantitative", scale, axis }) as const;
