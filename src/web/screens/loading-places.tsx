// The aircraft from above with every place that can be loaded: each one a button that says what is on it. Two rulers at
// the edges show where the centre of gravity lies in the aircraft, between the limits that hold at the start.
import { useMemo } from "react";
import type { Sheet } from "../../core/sheet/schema.ts";
import type { Span } from "../../core/load/outline.ts";
import { planLoad } from "../../present/plots/load-plan.ts";
import { asTitle } from "../../present/sentence-case.ts";
import type { Names } from "../../present/names.ts";
import { useWide } from "../parts/use-wide.ts";
import { useWidth } from "../parts/use-width.ts";
import { useLocale } from "../parts/words.tsx";
import type { LoadDraft, Place } from "./loading-view.ts";
import type { LoadingWords } from "../../present/words/loading-words.ts";
import { useLoadingWords } from "./use-loading-words.ts";
import type { MassWords } from "./mass-unit.ts";

/** The centre of gravity in the aircraft: from the start of the burn to its end, and the limits at the start. */
export type Balance = {
  readonly start: readonly [x_m: number, y_m: number];
  readonly end: readonly [x_m: number, y_m: number];
  readonly along: Span | null;
  readonly across: Span | null;
};

type LoadingPlacesProps = {
  readonly sheet: Sheet;
  readonly draft: LoadDraft;
  readonly places: readonly Place[];
  readonly names: Names;
  readonly mass: MassWords;
  readonly balance: Balance | null;
  readonly onPlace: (place: Place) => void;
};

const rowUp = 88;
const heightLeft = 272;

export function placeName(place: Place, names: Names, fuel: string): string {
  return place.kind === "fuel" ? fuel : names.of(place.kind, place.id);
}

export function LoadingPlaces(props: LoadingPlacesProps) {
  const { sheet, places, names, balance, onPlace } = props;
  const wide = useWide();
  const { language } = useLocale();
  const words = useLoadingWords();
  const [ref, width] = useWidth<HTMLElement>(358);
  const heading = wide ? "left" : "up";
  const { outline } = sheet;
  const plan = useMemo(
    () =>
      planLoad({
        places,
        fuselage_m: outline.fuselage_m,
        tailBoom_m: outline.tailBoom_m,
        width: heading === "up" ? Math.min(width, 620) : width,
        heading,
        size: heading === "up" ? rowUp : heightLeft,
      }),
    [places, outline, width, heading],
  );
  const fieldOf = new Map(plan.fields.map((field) => [field.id, field]));
  return (
    <figure
      ref={ref}
      className="load-plan"
      aria-label={heading === "up" ? words.drawing : words.drawingAcross}
    >
      <div className="load-plan-picture" style={{ inlineSize: plan.width, blockSize: plan.height }}>
        <svg
          width={plan.width}
          height={plan.height}
          viewBox={`0 0 ${plan.width} ${plan.height}`}
          aria-hidden="true"
        >
          <path className="load-body" d={plan.boom} />
          <path className="load-body" d={plan.body} />
          {balance !== null && <Rulers balance={balance} to={plan.to} plan={plan} heading={heading} />}
        </svg>
        <ol>
          {places.map((place) => {
            const field = fieldOf.get(place.id);
            if (field === undefined) return null;
            const content = contentOf(place, props, words);
            const name = asTitle(placeName(place, names, words.fuel), language);
            return (
              <li key={place.id}>
                <button
                  type="button"
                  className="load-field"
                  data-empty={content.empty || undefined}
                  style={{
                    insetInlineStart: field.left,
                    insetBlockStart: field.top,
                    inlineSize: field.width,
                    blockSize: field.height,
                  }}
                  onClick={() => onPlace(place)}
                >
                  <span className="load-field-name">{name}</span>
                  <span className="load-field-what">{content.what}</span>
                  {content.mass !== null && <span className="load-field-mass mono">{content.mass}</span>}
                </button>
              </li>
            );
          })}
        </ol>
      </div>
    </figure>
  );
}

type Content = { readonly what: string; readonly mass: string | null; readonly empty: boolean };

function contentOf(place: Place, { draft, names, mass }: LoadingPlacesProps, words: LoadingWords): Content {
  if (place.kind === "fuel") {
    const text = draft.fuel_kg === null ? "?" : mass.text(draft.fuel_kg, "both");
    return { what: "", mass: text, empty: draft.fuel_kg === null };
  }
  if (place.kind === "seat") {
    const sitting = draft.persons.find(({ seat }) => seat === place.id);
    if (sitting === undefined) return { what: words.free, mass: null, empty: true };
    return {
      what: sitting.person === null ? "" : names.person(sitting.person),
      mass: sitting.mass_kg === null ? "?" : mass.text(sitting.mass_kg, "higher"),
      empty: false,
    };
  }
  if (place.kind === "stretcher") {
    const expected = draft.patients.find(({ stretcher }) => stretcher === place.id);
    return expected === undefined
      ? { what: words.noPatient, mass: null, empty: true }
      : { what: words.patientUpTo(mass.text(expected.most_kg, "higher")), mass: null, empty: false };
  }
  const kit = draft.kit.filter(({ at }) => at === place.id);
  if (kit.length === 0) return { what: words.nothing, mass: null, empty: true };
  const sum_kg = kit.reduce((sum, { mass_kg }) => sum + mass_kg, 0);
  return { what: words.pieces(kit.length), mass: mass.text(sum_kg, "higher"), empty: false };
}

type RulersProps = {
  readonly balance: Balance;
  readonly to: (point: readonly [number, number]) => readonly [number, number];
  readonly plan: { readonly width: number; readonly height: number };
  readonly heading: "up" | "left";
};

/** At the left edge (nose up) or the lower one (nose left) along the aircraft; at the tail end across it. */
function Rulers({ balance: { start, end, along, across }, to, plan, heading }: RulersProps) {
  const up = heading === "up";
  const alongAt = (x_m: number) => to([x_m, 0])[up ? 1 : 0];
  const acrossAt = (y_m: number) => to([0, y_m])[up ? 0 : 1];
  const edge = up ? 5 : plan.height - 5;
  const tail = (up ? plan.height : plan.width) - 8;
  const line = (a: number, b: number, at: number, isAlong: boolean) =>
    isAlong === up ? `M${at} ${a}V${b}` : `M${a} ${at}H${b}`;
  const bracket = (a: number, b: number, at: number, isAlong: boolean) =>
    `${line(a, b, at, isAlong)}${[a, b]
      .map((end_) => (isAlong === up ? `M${at - 5} ${end_}H${at + 5}` : `M${end_} ${at - 5}V${at + 5}`))
      .join("")}`;
  // Never shorter than a dot, so that a track of one place is seen.
  const seen = (a: number, b: number): readonly [number, number] =>
    Math.abs(a - b) < 1 ? [a - 1, a + 1] : [a, b];
  return (
    <>
      {along !== null && (
        <path className="load-ruler" d={bracket(alongAt(along[0]), alongAt(along[1]), edge, true)} />
      )}
      {across !== null && (
        <path className="load-ruler" d={bracket(acrossAt(across[0]), acrossAt(across[1]), tail, false)} />
      )}
      <path className="load-ruler-track" d={line(...seen(alongAt(start[0]), alongAt(end[0])), edge, true)} />
      <path
        className="load-ruler-track"
        d={line(...seen(acrossAt(start[1]), acrossAt(end[1])), tail, false)}
      />
    </>
  );
}
