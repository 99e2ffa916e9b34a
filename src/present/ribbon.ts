// The ribbon: a standing over time as one strip. Spans in, SVG path data out, in pixels of a given width.
//
//   ready                a full band
//   ready within limits  a half band under a thin line (the limit above it)
//   not known            dots
//   not ready            a bare base line with crosses
//   now                  one upright stroke
//   kept up              round dots: the outline of what it would be if everything that falls due were renewed in time
//
// Told by shape alone, so it reads the same in one colour. Pixels round against the pilot: a worse span is widened to
// whole pixels and to a least width at which its shape can be told, and where spans meet or overlap the worse is drawn.
// Time that no span covers is not known. Refuses (RangeError) a window that does not end after it begins.
import { compareVerdicts } from "../core/standing/combine.ts";
import type { Span, Verdict } from "../core/standing/combine.ts";

export type RibbonSpan = Pick<Span, "from_ms" | "until_ms" | "verdict">;

/** A stretch as drawn: [x0, x1) in pixels. */
export type Stretch = { readonly x0: number; readonly x1: number; readonly verdict: Verdict };

export type Ribbon = {
  readonly width: number;
  readonly height: number;
  readonly stretches: readonly Stretch[];
  /** Filled: bands, half bands with their lines, dots, base lines. */
  readonly fill: string;
  /** Stroked: crosses. */
  readonly crosses: string;
  /** Where now is; null when outside the window. */
  readonly nowX: number | null;
};

/** What a ribbon would show if everything that falls due for renewal were renewed: drawn as an outline round dots. */
export function keptOutline(
  spans: readonly RibbonSpan[],
  kept: readonly RibbonSpan[],
  { from_ms, until_ms, width }: RibbonWindow,
): string {
  const scale = width / (until_ms - from_ms);
  const inside = 0.5;
  return spans
    .filter(({ verdict }) => verdict === "notKnown")
    .flatMap((span) =>
      kept.map((other) => ({
        verdict: other.verdict,
        // Rounded inwards: never more of what is better than there is.
        x0: Math.ceil((Math.max(span.from_ms, other.from_ms, from_ms) - from_ms) * scale),
        x1: Math.floor((Math.min(span.until_ms, other.until_ms, until_ms) - from_ms) * scale),
      })),
    )
    .filter(({ verdict, x0, x1 }) => x1 - x0 >= 2 && compareVerdicts(verdict, "notKnown") < 0)
    .map(({ verdict, x0, x1 }) => {
      const sides = `V${bottom - inside}H${round(x0 + inside)}`;
      const limit =
        verdict === "withinLimits" ? `M${round(x0 + inside)} ${halfTop - 2}H${round(x1 - inside)}` : "";
      return `M${round(x0 + inside)} ${top + inside}H${round(x1 - inside)}${sides}Z${limit}`;
    })
    .join("");
}

export type RibbonWindow = { readonly from_ms: number; readonly until_ms: number; readonly width: number };

export const ribbonHeight = 26;
const top = 6;
const bottom = 20;
const line = 1.5;
const halfTop = 12;
const dotRadius = 1.7;
const dotStep = 7;
const crossHalf = 4.5;
const crossStep = 150;

/** The narrowest that each shape is drawn, so that a minute of bad news is still seen in a week. */
const leastWidth: Readonly<Record<Verdict, number>> = {
  ready: 0,
  withinLimits: 5,
  notKnown: 7,
  notReady: 11,
};

/** The stretches that are drawn: without gap or overlap from 0 to the width, never better than the standing they show. */
export function stretchesOf(
  spans: readonly RibbonSpan[],
  { from_ms, until_ms, width }: RibbonWindow,
): readonly Stretch[] {
  if (!(from_ms < until_ms) || !Number.isFinite(until_ms - from_ms)) {
    throw new RangeError(`a ribbon must end after it begins: ${from_ms}, ${until_ms}`);
  }
  if (!(width > 0)) return [];
  const scale = width / (until_ms - from_ms);
  const widened = uncovered(spans, from_ms, until_ms)
    .filter((span) => span.until_ms > from_ms && span.from_ms < until_ms && span.from_ms < span.until_ms)
    .map(({ from_ms: start, until_ms: end, verdict }) =>
      widen((start - from_ms) * scale, (end - from_ms) * scale, verdict, width),
    );
  return flatten(widened, width);
}

/** The spans, and *not known* wherever none of them reaches. */
function uncovered(spans: readonly RibbonSpan[], from_ms: number, until_ms: number): readonly RibbonSpan[] {
  const all = [...spans];
  let reached = from_ms;
  for (const span of spans.toSorted((a, b) => a.from_ms - b.from_ms)) {
    if (span.from_ms > reached) all.push({ from_ms: reached, until_ms: span.from_ms, verdict: "notKnown" });
    reached = Math.max(reached, span.until_ms);
  }
  if (reached < until_ms) all.push({ from_ms: reached, until_ms, verdict: "notKnown" });
  return all;
}

function widen(start: number, end: number, verdict: Verdict, width: number): Stretch {
  let x0 = Math.max(0, start);
  let x1 = Math.min(width, end);
  if (verdict === "ready") return { x0, x1, verdict };
  const missing = leastWidth[verdict] - (x1 - x0);
  if (missing > 0) {
    x0 = Math.max(0, Math.min(x0 - missing / 2, width - leastWidth[verdict]));
    x1 = Math.min(width, x0 + leastWidth[verdict]);
  }
  return { x0: Math.floor(x0), x1: Math.min(width, Math.ceil(x1)), verdict };
}

function flatten(stretches: readonly Stretch[], width: number): readonly Stretch[] {
  const edges = [...new Set([0, width, ...stretches.flatMap(({ x0, x1 }) => [x0, x1])])].toSorted(
    (a, b) => a - b,
  );
  const flat: Stretch[] = [];
  edges.slice(1).forEach((x1, index) => {
    const x0 = edges[index]!;
    const covering = stretches.filter((stretch) => stretch.x0 < x1 && stretch.x1 > x0);
    // Only rounding leaves a sliver that nothing covers; it is as unknown as any other gap.
    const verdict = covering
      .map((stretch) => stretch.verdict)
      .reduce(
        (worst, next) => (compareVerdicts(next, worst) > 0 ? next : worst),
        covering[0]?.verdict ?? "notKnown",
      );
    const last = flat.at(-1);
    if (last?.verdict === verdict) flat[flat.length - 1] = { ...last, x1 };
    else flat.push({ x0, x1, verdict });
  });
  return flat;
}

/** The ribbon of a window, ready to be drawn. */
export function ribbonOf(spans: readonly RibbonSpan[], window: RibbonWindow, now_ms: number): Ribbon {
  const stretches = stretchesOf(spans, window);
  const { from_ms, until_ms, width } = window;
  const inside = from_ms <= now_ms && now_ms <= until_ms;
  return {
    width,
    height: ribbonHeight,
    stretches,
    fill: stretches.map(fillOf).join(""),
    crosses: stretches.map(crossesOf).join(""),
    nowX: inside ? round(((now_ms - from_ms) * width) / (until_ms - from_ms)) : null,
  };
}

function fillOf({ x0, x1, verdict }: Stretch): string {
  switch (verdict) {
    case "ready":
      return box(x0, top, x1, bottom);
    case "withinLimits":
      return box(x0, top, x1, top + line) + box(x0, halfTop, x1, bottom);
    case "notKnown":
      return dots(x0, x1);
    case "notReady":
      return box(x0, bottom - line, x1, bottom);
    default:
      return verdict satisfies never;
  }
}

function box(x0: number, y0: number, x1: number, y1: number): string {
  return `M${round(x0)} ${y0}H${round(x1)}V${y1}H${round(x0)}Z`;
}

/** Whole dots only, spread evenly, so that a stretch never ends in half a dot. */
function dots(x0: number, x1: number): string {
  const count = Math.max(1, Math.floor((x1 - x0) / dotStep));
  const step = (x1 - x0) / count;
  const middle = (top + bottom) / 2;
  return Array.from({ length: count }, (_, index) => {
    const left = round(x0 + step * (index + 0.5) - dotRadius);
    const across = dotRadius * 2;
    return `M${left} ${middle}a${dotRadius} ${dotRadius} 0 1 0 ${across} 0a${dotRadius} ${dotRadius} 0 1 0 ${-across} 0Z`;
  }).join("");
}

function crossesOf({ x0, x1, verdict }: Stretch): string {
  if (verdict !== "notReady") return "";
  const count = Math.max(1, Math.round((x1 - x0) / crossStep));
  const step = (x1 - x0) / count;
  const middle = (top + bottom - line) / 2 - 0.75;
  return Array.from({ length: count }, (_, index) => {
    const x = round(x0 + step * (index + 0.5));
    const [left, right] = [round(x - crossHalf), round(x + crossHalf)];
    return `M${left} ${middle - crossHalf}L${right} ${middle + crossHalf}M${left} ${middle + crossHalf}L${right} ${middle - crossHalf}`;
  }).join("");
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
