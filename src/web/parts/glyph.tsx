// The marks, drawn by us, all of one size and told by shape: what was seen of an item, and what a reason does.
//
// They stand beside words that say the same, so a screen reader passes over them.
import type { ReactNode } from "react";
import type { Effect } from "../../core/facts/reason.ts";

export type GlyphName = "good" | "blank" | "finding" | "notReached" | "unknown" | "limits" | "advises";

const dot = <rect x="6.7" y="11.6" width="2.6" height="2.6" />;

const shapes: Readonly<Record<GlyphName, ReactNode>> = {
  good: <rect x="3" y="3" width="10" height="10" />,
  blank: <rect x="2.5" y="6.9" width="11" height="2.2" />,
  finding: (
    <>
      <path d="M6.5 1.8H9.5L9.1 9.8H6.9Z" />
      {dot}
    </>
  ),
  notReached: <path className="stroke" d="M3.2 3.2L12.8 12.8M12.8 3.2L3.2 12.8" />,
  unknown: (
    <>
      <path className="stroke" d="M4.4 5.4C4.4 3.4 5.9 2.5 8 2.5S11.7 3.6 11.7 5.4C11.7 7.5 8 7.3 8 10" />
      {dot}
    </>
  ),
  limits: (
    <>
      <rect x="2" y="2.4" width="12" height="1.7" />
      <rect x="2" y="7.6" width="12" height="6" />
    </>
  ),
  advises: <path className="stroke" d="M8 2.6V13.4M3.3 5.3L12.7 10.7M12.7 5.3L3.3 10.7" />,
};

export function Glyph({ name }: { readonly name: GlyphName }) {
  return (
    <svg className="glyph" viewBox="0 0 16 16" aria-hidden="true" data-glyph={name}>
      {shapes[name]}
    </svg>
  );
}

const effectGlyphs: Readonly<Record<Effect, GlyphName>> = {
  blocks: "notReached",
  unknown: "unknown",
  limits: "limits",
  advises: "advises",
};

export function EffectGlyph({ effect }: { readonly effect: Effect }) {
  return <Glyph name={effectGlyphs[effect]} />;
}
