// What a taken remedy changes in what was said of a call: that alone, as somebody would have said it, and in whole
// kilograms or pounds. A quantity that was solved to the last bit is rounded to the side on which it is met; the screen then judges
// what was said like any other call.
import type { CallRemedy } from "../../core/reach/call-remedies.ts";
import { typedText } from "../../present/typed-number.ts";
import type { Language } from "../../present/words/language.ts";
import { toChosen } from "./call-units.ts";
import type { CallDraft } from "./call-view.ts";

/** Bits that solving leaves over do not cost a kilogram. */
const bits_kg = 1e-6;

/** The part of the draft that changes. */
export function takenRemedy(
  draft: CallDraft,
  { call, changes }: CallRemedy,
  language: Language,
): Partial<CallDraft> {
  const kinds = new Set(changes.map(({ kind }) => kind));
  const whole = (value: number) => typedText(value, 0, language);
  const mass = (value_kg: number) => toChosen(value_kg, "mass", draft.units);
  const scene = call.stops.find(({ role }) => role === "scene");
  const hospital = call.stops.find(({ role }) => role === "hospital");
  const uplifted = call.stops.find(({ uplift_kg }) => uplift_kg > 0);
  const patient = scene?.boards[0];
  const typed = { ...draft.typed };
  if (kinds.has("addFuel")) typed.fuel_kg = whole(Math.ceil(mass(call.fuel_kg) - bits_kg));
  if (kinds.has("lessFuel")) typed.fuel_kg = whole(Math.floor(mass(call.fuel_kg) + bits_kg));
  if (kinds.has("lighterPatient") && patient !== undefined)
    typed.patient_kg = whole(Math.floor(mass(patient.most_kg) + bits_kg));
  if (kinds.has("shorterStay") && scene !== undefined) typed.stay_min = whole(Math.floor(scene.stay_min));
  const isTimed = kinds.has("wait") || kinds.has("leaveEarlier");
  if (isTimed) delete typed.depart_min;
  return {
    typed,
    // The best hospital of the answer may change with the call: the one that was told is meant.
    hospital: hospital?.place.site ?? draft.hospital,
    ...(isTimed ? { depart_ms: call.depart_ms } : {}),
    ...(kinds.has("otherPlace") && patient !== undefined ? { boardAt: patient.at } : {}),
    ...(kinds.has("leaveKit") ? { without: call.without } : {}),
    ...(kinds.has("refuel") && uplifted?.place.site != null
      ? {
          uplift: {
            site: uplifted.place.site,
            kg: uplifted.uplift_kg,
            engines: uplifted.engines === "running" ? ("running" as const) : ("stopped" as const),
          },
        }
      : {}),
  };
}
