// What is aboard for a call, from the record: the craft as weighed, and today's loading without its patients and fuel.
//
// Each weighing with each loading, and kit that people differ on both ways: a call is judged for all of them and the worst
// counts. Without a loading the crew that the operation needs is put on the sheet's seats at the sheet's own masses, and
// that is said; nothing is called known on it. Refused by core/load: told as not computable, never guessed.
import type { CraftState } from "../facts/craft.ts";
import { loadedCraft, standingWeighings } from "../load/assess.ts";
import { limitsOf, loadCaseOf } from "../load/from-sheet.ts";
import { type FuelLine, fuelRange } from "../load/fuel-line.ts";
import { emptyMassNow, kitAboard, type StatedLoading } from "../load/judge-loading.ts";
import { checkLoad } from "../load/load-case.ts";
import type { Limits } from "../load/limits.ts";
import { type Totals, totalsOf } from "../load/totals.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Operation } from "../sheet/flight-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";

export type AboardKit = { readonly kit: string; readonly name: string; readonly totals: Totals };

export type CallLoad = {
  readonly evidence: readonly string[];
  /** Everything but fuel, patients and kit. */
  readonly bare: Totals;
  readonly kit: readonly AboardKit[];
  readonly line: FuelLine;
  readonly tank_kg: number;
  readonly limits: Limits;
  /** A seat, stretcher or compartment that carries more than it may; null for none. */
  readonly placeOver: string | null;
  /** Seats on which the loading has somebody. */
  readonly taken: readonly string[];
  /** Usable fuel as the loading says; null where it is assumed. */
  readonly fuel_kg: number | null;
  readonly isAssumed: boolean;
};

export type CallLoads = {
  readonly loads: readonly CallLoad[];
  /** What kept a case from being computed: a path and what was wanted. */
  readonly refused: readonly { readonly path: string; readonly wanted: string }[];
};

export function callLoads(sheet: Sheet, state: CraftState, operation: Operation): CallLoads {
  const refused: { path: string; wanted: string }[] = [];
  const weighings = standingWeighings(state);
  if (weighings.length === 0) refused.push({ path: "weighing", wanted: "a weighing" });
  const stated = state.load.loadings.map((loading) => {
    const { aboard, contested } = kitAboard(loading, state.load.kit);
    const ways = contested.length === 0 ? [aboard] : [aboard, [...aboard, ...contested]];
    return ways.map((kit) => ({
      loading: { ...loading, kit } as StatedLoading,
      entry: loading.entry as string | null,
    }));
  });
  const given = stated.flat();
  const cases = given.length > 0 ? given : [{ loading: assumedLoading(sheet, operation), entry: null }];
  const loads = weighings.flatMap((weighing) => {
    const craft = loadedCraft(state, weighing);
    if (craft === null) {
      refused.push({ path: "variant", wanted: "the variant of the craft" });
      return [];
    }
    return cases.flatMap(({ loading, entry }): CallLoad[] => {
      try {
        const empty = emptyMassNow(sheet, craft);
        const load = loadCaseOf(sheet, {
          variant: craft.variant,
          flight: operation.needs.masses,
          empty: { mass_kg: empty.totals.mass_kg, ...empty.centre, included: empty.included },
          installed: craft.installed,
          persons: loading.persons.map(({ seat, mass_kg }, index) => ({ id: `p${index}`, seat, mass_kg })),
          patients: [],
          kit: loading.kit.map(({ kit, mass_kg, at }) => ({ id: kit, mass_kg, at })),
          hook_kg: null,
          fuel: { filled_kg: 0, to_kg: 0 },
          cabin: null,
        });
        const names = new Map(loading.kit.map(({ kit, name }) => [kit, name]));
        const over = checkLoad(load).places.find(({ met }) => !met);
        return [
          {
            evidence: [weighing.entry, ...(entry === null ? [] : [entry])],
            bare: totalsOf(load.cargo.filter(({ kind }) => kind !== "kit")),
            kit: load.cargo
              .filter(({ kind }) => kind === "kit")
              .map((cargo) => ({
                kit: cargo.id,
                name: names.get(cargo.id) ?? cargo.id,
                totals: totalsOf([cargo]),
              })),
            line: load.line,
            tank_kg: fuelRange(load.line)[1],
            limits: limitsOf(sheet, craft.variant, operation.needs.masses),
            placeOver: over?.id ?? null,
            taken: loading.persons.map(({ seat }) => seat),
            fuel_kg: entry === null ? null : loading.fuel_kg,
            isAssumed: entry === null,
          },
        ];
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        refused.push(...error.issues.map(({ path, wanted }) => ({ path, wanted })));
        return [];
      }
    });
  });
  return { loads, refused };
}

/** The crew that the operation needs, on the first seats that fit, at the sheet's masses. */
function assumedLoading(sheet: Sheet, { needs }: Operation): StatedLoading {
  const free = sheet.seats.filter(({ applies }) => applies === undefined);
  const take = (roles: readonly string[], mass_kg: number): StatedLoading["persons"] => {
    const index = free.findIndex(({ role }) => roles.includes(role));
    const [seat] = index === -1 ? [] : free.splice(index, 1);
    return seat === undefined ? [] : [{ seat: seat.id, person: null, mass_kg }];
  };
  const pilots = Array.from({ length: Math.max(needs.pilots, sheet.type.crewMin) }, () =>
    take(["pilot", "crew"], sheet.masses.pilot_kg),
  );
  const crew = needs.crew.map((role) =>
    role === "medic"
      ? take(["medic"], sheet.masses.medic_kg)
      : take(["crew", "medic"], sheet.masses.technicalCrew_kg),
  );
  return { persons: [...pilots, ...crew].flat(), patients: [], kit: [], fuel_kg: 0, fuelAtEnd_kg: 0 };
}
