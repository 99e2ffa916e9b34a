// One row of the next hours as a drawing: a value as a stepped line over time, the minimum or limit as a full line with
// its name, what breaks it as an area, what is not known as dots along the foot.
//
// In: spans with the worst value of each, demands with their times, the size. Out: SVG path data and places of words. The
// scale stretches what is low, where decisions lie: heights go by the square root. Values beyond its top stand at the
// top; the words beside the row say them. No colour says anything here.

export type BandSpan = {
  readonly from_ms: number;
  readonly until_ms: number;
  /** Null: nothing is known. May be Infinity. */
  readonly value: number | null;
  readonly isSure: boolean;
  readonly isForecast: boolean;
};

export type Demand = { readonly from_ms: number; readonly until_ms: number; readonly value: number };

export type BandScale = {
  readonly top: number;
  /** Which side of a demand breaks it. */
  readonly worse: "lower" | "higher";
};

export type BandWindow = {
  readonly from_ms: number;
  readonly until_ms: number;
  readonly width: number;
  readonly height: number;
};

export type Band = {
  /** Seen by somebody or something. */
  readonly observed: string;
  readonly forecast: string;
  /** Where nothing is known, or what is known could be worse: dots along the foot. */
  readonly dots: string;
  /** Between the line and the demand that it breaks. */
  readonly broken: string;
  readonly demands: readonly {
    readonly x1: number;
    readonly x2: number;
    readonly y: number;
    readonly value: number;
  }[];
};

const dotApart = 7;
const edge = 3;

/** Distance from the top of the drawing. */
export function bandY(value: number, { top }: BandScale, height: number): number {
  const share = Math.sqrt(Math.min(1, Math.max(0, value / top)));
  return round(edge + (1 - share) * (height - 2 * edge));
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}

export function bandOf(
  spans: readonly BandSpan[],
  demands: readonly Demand[],
  scale: BandScale,
  window: BandWindow,
): Band {
  const { width, height } = window;
  const x = (at_ms: number): number => {
    const share = (at_ms - window.from_ms) / (window.until_ms - window.from_ms);
    return round(Math.min(1, Math.max(0, share)) * width);
  };
  const y = (value: number): number => bandY(value, scale, height);
  const line = (isForecast: boolean): string => {
    let path = "";
    let end: { readonly x: number; readonly y: number } | null = null;
    for (const span of spans) {
      if (span.value === null || span.isForecast !== isForecast) {
        end = null;
        continue;
      }
      const [x1, x2, at] = [x(span.from_ms), x(span.until_ms), y(span.value)];
      path += end === null ? `M${x1} ${at}` : end.y === at ? "" : `V${at}`;
      path += `H${x2}`;
      end = { x: x2, y: at };
    }
    return path;
  };
  const unknown = spans.filter(({ value, isSure }) => value === null || !isSure);
  return {
    observed: line(false),
    forecast: line(true),
    dots: unknown.map((span) => dotsBetween(x(span.from_ms), x(span.until_ms), height - edge)).join(""),
    broken: spans.map((span) => brokenIn(span, demands, scale, x, y)).join(""),
    demands: demands.map(({ from_ms, until_ms, value }) => ({
      x1: x(from_ms),
      x2: x(until_ms),
      y: y(value),
      value,
    })),
  };
}

/** Strokes of no length with round ends. */
function dotsBetween(x1: number, x2: number, y: number): string {
  let path = "";
  for (let at = Math.ceil(x1 / dotApart) * dotApart; at < x2; at += dotApart) path += `M${at} ${y}h0`;
  return path;
}

function brokenIn(
  span: BandSpan,
  demands: readonly Demand[],
  { worse }: BandScale,
  x: (at_ms: number) => number,
  y: (value: number) => number,
): string {
  const { value } = span;
  if (value === null) return "";
  return demands
    .map((demand) => {
      const from_ms = Math.max(span.from_ms, demand.from_ms);
      const until_ms = Math.min(span.until_ms, demand.until_ms);
      const isBroken = worse === "lower" ? value < demand.value : value > demand.value;
      if (!isBroken || from_ms >= until_ms) return "";
      return `M${x(from_ms)} ${y(value)}H${x(until_ms)}V${y(demand.value)}H${x(from_ms)}Z`;
    })
    .join("");
}
