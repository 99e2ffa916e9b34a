// What the screens Call and Reach share: the desk of a craft, what somebody has said of a call so far, and the call that
// follows from it. Everything that nobody said is as usual (core/standing/call-desk).
import { minute_ms } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import type { Position } from "../../core/air/position.ts";
import type { Call, CallAnswer, CallKnown, CallPlace } from "../../core/reach/call.ts";
import { assessCall } from "../../core/reach/assess-call.ts";
import { callKnown, hospitalsFrom, sitePlace, usualCall } from "../../core/standing/call-desk.ts";
import type { CallDesk } from "../../core/standing/call-desk.ts";
import { compareVerdicts } from "../../core/standing/combine.ts";
import { readTypedPlace } from "../../core/reach/typed-place.ts";
import type { TypedPlace } from "../../core/reach/typed-place.ts";
import type { Names } from "../../present/names.ts";
import type { Language } from "../../present/words/language.ts";
import type { CraftView } from "../device/model.ts";
import { sun } from "../device/judging.ts";
import { type CallAsked, readIn, type TypedOfCall } from "./call-units.ts";
import { type ChosenUnits, usualUnits } from "./chosen-units.ts";

const desks = new WeakMap<CraftView["standing"], { readonly desk: CallDesk; readonly known: CallKnown }>();

/** The desk of a craft, kept while its standing is; null without its sheet. */
export function deskOf(craft: CraftView): { readonly desk: CallDesk; readonly known: CallKnown } | null {
  const { sheet, state, standing, situation, sky } = craft;
  if (sheet === null) return null;
  let held = desks.get(standing);
  if (held === undefined) {
    const desk: CallDesk = {
      sheet,
      state,
      situation,
      reasons: standing.reasons,
      base: sky,
      sun,
    };
    held = { desk, known: callKnown(desk) };
    desks.set(standing, held);
  }
  return held;
}

/** What was said so far; texts as typed, null for what nobody said. */
export type CallDraft = {
  readonly operation: string | null;
  readonly place: string;
  readonly site: string | null;
  /** Tapped on the map, or by bearing and distance. */
  readonly at: Position | null;
  readonly hospital: string | null;
  readonly depart_ms: number | null;
  readonly without: readonly string[];
  readonly uplift: {
    readonly site: string;
    readonly kg: number;
    readonly engines: "running" | "stopped";
  } | null;
  /** The units in which texts were typed. */
  readonly units: ChosenUnits;
  readonly typed: TypedOfCall;
  /** The seat or stretcher that the patient goes on; null as usual. */
  readonly boardAt: string | null;
  /** By instruments: a site, or `noAlternate`; null for what nobody said. */
  readonly alternate: string | null;
  /** Questions that somebody has answered with yes, by what was asked. */
  readonly kept: readonly string[];
};

export const emptyCall: CallDraft = {
  operation: null,
  place: "",
  site: null,
  at: null,
  hospital: null,
  depart_ms: null,
  without: [],
  uplift: null,
  units: usualUnits,
  typed: {},
  boardAt: null,
  alternate: null,
  kept: [],
};

/** That none is required. */
export const noAlternate = "none";

export function numberSaid(draft: CallDraft, asked: CallAsked, language: Language): number | null {
  return readIn(asked, draft.typed[asked] ?? "", draft.units, language);
}

export type PlaceSaid = {
  readonly read: TypedPlace | null;
  readonly place: CallPlace | null;
};

/** `70.312° N, 12.806° E` */
export function positionText({ lat_deg, lon_deg }: Position): string {
  const part = (value: number, positive: string, negative: string): string =>
    `${Math.abs(value).toFixed(4)}° ${value < 0 ? negative : positive}`;
  return `${part(lat_deg, "N", "S")}, ${part(lon_deg, "E", "W")}`;
}

/** The scene as it was said: a site, a place on the map, or what was typed. */
export function placeSaid(draft: CallDraft, desk: CallDesk, known: CallKnown, language: Language): PlaceSaid {
  const operation = operationOf(draft, desk);
  const usual = operation?.referenceCall?.siteElevation_ft ?? null;
  const elevation_ft = numberSaid(draft, "elevation_ft", language) ?? usual;
  const site = known.sites.find(({ id }) => id === draft.site);
  if (site !== undefined) {
    const place = sitePlace(site);
    return { read: null, place: { ...place, elevation_ft: place.elevation_ft ?? elevation_ft } };
  }
  if (draft.at !== null)
    return { read: null, place: { ...draft.at, name: positionText(draft.at), elevation_ft, site: null } };
  if (draft.place.trim() === "") return { read: null, place: null };
  const read = readTypedPlace(draft.place);
  if (read.is === "notRead") return { read, place: null };
  return { read, place: { ...read.position, name: positionText(read.position), elevation_ft, site: null } };
}

export function operationOf({ operation }: CallDraft, { sheet }: CallDesk) {
  return sheet.operations.find(({ id }) => id === operation) ?? sheet.operations[0] ?? null;
}

export type RankedCall = {
  readonly hospital: CallPlace | null;
  readonly call: Call;
  readonly answer: CallAnswer;
};

/** The call to a scene by way of each hospital, the best first; by none where there is none. */
export function rankedCalls(
  craft: CraftView,
  draft: CallDraft,
  scene: CallPlace,
  now_ms: number,
  language: Language,
): readonly RankedCall[] {
  const made = deskOf(craft);
  if (made === null || made.desk.base === null) return [];
  const { desk, known } = made;
  const hospitals = hospitalsFrom(known, scene).map(({ place }) => place);
  return (hospitals.length === 0 ? [null] : hospitals)
    .flatMap((hospital): RankedCall[] => {
      const call = callSaid({ desk, known }, draft, scene, hospital, now_ms, language);
      return call === null ? [] : [{ hospital, call, answer: assessCall(known, call) }];
    })
    .toSorted(
      (a, b) =>
        compareVerdicts(a.answer.verdict, b.answer.verdict) ||
        (a.answer.stops[2]?.arrive_ms ?? Infinity) - (b.answer.stops[2]?.arrive_ms ?? Infinity),
    );
}

/** The usual call, with everything in it that somebody said. */
export function callSaid(
  { desk, known: { sites } }: { readonly desk: CallDesk; readonly known: Pick<CallKnown, "sites"> },
  draft: CallDraft,
  scene: CallPlace,
  hospital: CallPlace | null,
  now_ms: number,
  language: Language,
): Call | null {
  const operation = operationOf(draft, desk);
  if (operation === null || desk.base === null) return null;
  const wait_min = numberSaid(draft, "depart_min", language) ?? 0;
  const depart_ms = Math.max(draft.depart_ms ?? now_ms + wait_min * minute_ms, now_ms);
  const usual = usualCall(desk, desk.base, { operation: operation.id, scene, hospital, depart_ms });
  if (usual === null) return null;
  const said = (asked: CallAsked): number | null => numberSaid(draft, asked, language);
  const [patient_kg, stay_min, fuel_kg] = [said("patient_kg"), said("stay_min"), said("fuel_kg")];
  const [wind_deg, wind_kt] = [said("wind_deg"), said("wind_kt")];
  const { air } = usual;
  const alternate = sites.find(({ id }) => id === draft.alternate);
  return {
    ...usual,
    ...(usual.flightRules === "ifr"
      ? {
          alternate: alternate === undefined ? null : sitePlace(alternate),
          isAlternateNotRequired: draft.alternate === noAlternate,
        }
      : {}),
    ...(fuel_kg === null ? {} : { fuel_kg, mostFuel_kg: null }),
    air: {
      ...air,
      wind:
        wind_kt === null ? air.wind : { from_deg: wind_deg ?? air.wind?.from_deg ?? null, speed_kt: wind_kt },
    },
    heights: { highestObstacle_ft: said("obstacle_ft"), cruise_ft: said("cruise_ft") },
    without: draft.without,
    stops: usual.stops.map((stop) => ({
      ...stop,
      ...(stop.role === "scene" && stay_min !== null ? { stay_min } : {}),
      boards: stop.boards.map((one) => ({
        ...one,
        at: draft.boardAt ?? one.at,
        most_kg: patient_kg ?? one.most_kg,
      })),
      // As was told with the uplift: engines stopped, unless the fuel scheme lets them run.
      ...(draft.uplift?.engines === "stopped" && stop.place.site === draft.uplift.site
        ? { engines: "stopped" as const }
        : {}),
      uplift_kg:
        draft.uplift !== null && stop.place.site === draft.uplift.site ? draft.uplift.kg : stop.uplift_kg,
    })),
  };
}

/** What a call takes as usual, to show beside the steppers. */
export function usualOf(call: Call | null, now_ms: number) {
  const scene = call?.stops.find(({ role }) => role === "scene");
  return {
    fuel_kg: call?.fuel_kg ?? null,
    patient_kg: scene?.boards[0]?.most_kg ?? null,
    stay_min: scene?.stay_min ?? null,
    depart_min: call === null ? null : Math.max(0, (call.depart_ms - now_ms) / minute_ms),
    elevation_ft: scene?.place.elevation_ft ?? null,
    wind_deg: call?.air.wind?.from_deg ?? null,
    wind_kt: call?.air.wind?.speed_kt ?? null,
    cruise_ft: call?.heights?.cruise_ft ?? null,
    obstacle_ft: call?.heights?.highestObstacle_ft ?? null,
  };
}

/** A seat, a stretcher or a compartment by the sheet's word for it. */
export function boardingPlaceName(names: Names, id: string): string {
  const kinds = ["seat", "stretcher", "compartment"] as const;
  return kinds.map((kind) => names.of(kind, id)).find((name) => name !== id) ?? id;
}

/** The name of a piece of kit, as the loadings call it. */
export function kitName({ state }: CraftView, kit: string): string {
  const named = state.load.loadings.flatMap(({ kit: list }) => list).find((one) => one.kit === kit);
  return named?.name ?? kit;
}

// What was said of the call of each craft, so that going to Reach and back loses nothing. In memory only: a call that is to
// be kept is kept by its entry.
const drafts: Record<string, CallDraft> = {};

export function heldCall(ledger: string): CallDraft {
  return own(drafts, ledger) ?? emptyCall;
}

export function holdCall(ledger: string, draft: CallDraft): void {
  drafts[ledger] = draft;
}
