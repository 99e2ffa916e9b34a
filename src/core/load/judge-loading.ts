// A stated loading of one craft, judged whole: every fuel state of its burn, without a patient and with every mass that a
// patient may have. The one way by which standing and screen come to a load; numbers by load-case.ts and solve.ts, exact.
//
// Mass in balance is judged as a whole interval: more mass can bring a centre of gravity back inside, so "at most 140 kg"
// is inside only where nobody, everybody up to 140 kg, and everything between is. With several stretchers each patient
// is taken over its whole range while each of the others is either absent or at its greatest mass: all such cases, not
// every mixture of two masses between.
// Hoist flights: limits for hoisting without a load, and the greatest load on the hook for every fuel state, patient absent.
// Empty mass: the weighing, and the catalogue's masses of equipment that went or came since (empty-mass.ts). The sheet
// gives no landing mass of its own; the rule on changes is held against the variant's greatest mass.
// Refuses (Refusal, each issue with its path) what loadCaseOf and emptyMass refuse: it is then not known, never guessed.
import type { KitFact, LoadingFact, WeighingFact } from "../facts/load.ts";
import type { Sheet } from "../sheet/schema.ts";
import { own } from "../facts/own.ts";
import { emptyMass, type EmptyMass, type EquipmentChange } from "./empty-mass.ts";
import { type Flight, type Installed, loadCaseOf } from "./from-sheet.ts";
import { checkLoad, type LoadAnswer, type LoadCase } from "./load-case.ts";
import { intervalWith } from "./interval-set.ts";
import { largestFuel, type OpenLoad, safeMasses } from "./solve.ts";
import { totalsOf } from "./totals.ts";

/** What is loaded; masses as stated. */
export type StatedLoading = Pick<
  LoadingFact,
  "persons" | "patients" | "kit" | "kitList" | "fuel_kg" | "fuelAtEnd_kg"
>;

export type LoadedCraft = {
  readonly variant: string;
  readonly installed: Installed;
  readonly weighing: Pick<WeighingFact, "at_ms" | "mass_kg" | "x_m" | "y_m" | "included">;
  /** Since when each piece of equipment is as it is now. */
  readonly since_ms: Readonly<Record<string, number>>;
};

export type PatientRange = {
  readonly stretcher: string;
  readonly most_kg: number;
  /** The greatest mass up to which every patient is inside; null where not even the flight without one is. */
  readonly safeUpTo_kg: number | null;
};

export type FlightJudgement = {
  readonly flight: Flight;
  readonly case: LoadCase;
  /** Without patients. */
  readonly outbound: LoadAnswer;
  /** Every patient at its greatest mass. */
  readonly heaviest: LoadAnswer;
  readonly heaviestCase: LoadCase;
  readonly patients: readonly PatientRange[];
  /** The most fuel at the start for which the burn is inside, with no patient and with every patient; null for none. */
  readonly largestFuel_kg: number | null;
  /** The greatest load on the hook (harness apart); null where there is no hoist or not even an empty hook is inside. */
  readonly hookUpTo_kg: number | null;
};

export type LoadingJudgement = {
  readonly empty: EmptyMass;
  readonly flights: readonly FlightJudgement[];
};

/** Equipment changes since a weighing, from what is installed now. */
function changesSince(sheet: Sheet, { installed, weighing, since_ms }: LoadedCraft): EquipmentChange[] {
  return sheet.equipment.flatMap(({ id, mass_kg, x_m, y_m }): EquipmentChange[] => {
    const now = own(installed, id);
    if (now === undefined || now === weighing.included.includes(id)) return [];
    const at_ms = Math.max(own(since_ms, id) ?? weighing.at_ms, weighing.at_ms);
    return [{ at_ms, equipment: id, installed: now, mass_kg, x_m, y_m }];
  });
}

/** Empty mass and centre of gravity now, with the history since the weighing. */
export function emptyMassNow(sheet: Sheet, craft: LoadedCraft): EmptyMass {
  const { at_ms, mass_kg, x_m, y_m, included } = craft.weighing;
  const scales = [{ point: "result", reading_kg: mass_kg, tare_kg: 0, x_m, y_m }];
  const most_kg = sheet.type.variants.find(({ id }) => id === craft.variant)?.maxTakeoffMass_kg;
  const weighing = { at_ms, scales, less: [], plus: [], included };
  return emptyMass([weighing], changesSince(sheet, craft), most_kg ?? Number.NaN);
}

/** Which of the loading's kit is aboard: all that nobody said was left behind. `contested` is what people differ on. */
export function kitAboard(
  loading: StatedLoading,
  said: Readonly<Record<string, readonly KitFact[]>>,
): {
  readonly aboard: StatedLoading["kit"];
  readonly left: StatedLoading["kit"];
  readonly contested: StatedLoading["kit"];
} {
  const state = (kit: string): "aboard" | "left" | "contested" => {
    const facts = own(said, kit) ?? [];
    if (facts.every(({ aboard }) => aboard)) return "aboard";
    return facts.some(({ aboard }) => aboard) ? "contested" : "left";
  };
  const of = (wanted: string) => loading.kit.filter(({ kit }) => state(kit) === wanted);
  return { aboard: of("aboard"), left: of("left"), contested: of("contested") };
}

export function judgeLoading(
  sheet: Sheet,
  craft: LoadedCraft,
  loading: StatedLoading,
  flights: readonly Flight[],
): LoadingJudgement {
  const empty = emptyMassNow(sheet, craft);
  return { empty, flights: flights.map((flight) => judgeFlight(sheet, craft, empty, loading, flight)) };
}

function judgeFlight(
  sheet: Sheet,
  craft: LoadedCraft,
  empty: EmptyMass,
  loading: StatedLoading,
  flight: Flight,
): FlightJudgement {
  const caseWith = (patients: StatedLoading["patients"]): LoadCase =>
    loadCaseOf(sheet, {
      variant: craft.variant,
      flight,
      empty: { mass_kg: empty.totals.mass_kg, ...empty.centre, included: empty.included },
      installed: craft.installed,
      persons: loading.persons.map(({ seat, mass_kg }, index) => ({ id: `p${index}`, seat, mass_kg })),
      patients: patients.map(({ stretcher, most_kg }) => ({ id: stretcher, stretcher, mass_kg: most_kg })),
      kit: loading.kit.map(({ kit, mass_kg, at }) => ({ id: kit, mass_kg, at })),
      hook_kg: null,
      fuel: { filled_kg: loading.fuel_kg, to_kg: loading.fuelAtEnd_kg },
      cabin: null,
    });
  const bare = caseWith([]);
  const full = caseWith(loading.patients);
  const outbound = checkLoad(bare);
  const patients = loading.patients.map((patient, index): PatientRange => {
    const others = loading.patients.filter((_, other) => other !== index);
    const most = Math.min(patient.most_kg, capacityOf(sheet, patient.stretcher));
    const reach = subsets(others).map((some) => {
      const found = safeMasses(openAt(sheet, caseWith(some), patient.stretcher, most), bare.limits);
      return intervalWith(found.set, 0)?.high ?? null;
    });
    return { ...patient, safeUpTo_kg: reach.reduce(lesser) };
  });
  return {
    flight,
    case: bare,
    outbound,
    heaviest: checkLoad(full),
    heaviestCase: full,
    patients,
    largestFuel_kg: fuelFor(sheet, loading, caseWith),
    hookUpTo_kg: flight === "hoist" ? hookUpTo(sheet, craft, bare) : null,
  };
}

function lesser(one: number | null, other: number | null): number | null {
  return one === null || other === null ? null : Math.min(one, other);
}

function subsets<Part>(parts: readonly Part[]): Part[][] {
  return parts.reduce<Part[][]>((all, part) => [...all, ...all.map((some) => [...some, part])], [[]]);
}

function capacityOf(sheet: Sheet, stretcher: string): number {
  return sheet.stretchers.find(({ id }) => id === stretcher)?.maxMass_kg ?? 0;
}

/** The load with the patient's mass open, from none to `most_kg`. Its stretcher was looked up before. */
function openAt(sheet: Sheet, { cargo, line, fuel }: LoadCase, stretcher: string, most_kg: number): OpenLoad {
  const { x_m, y_m } = sheet.stretchers.find(({ id }) => id === stretcher)!;
  return {
    base: totalsOf(cargo),
    station: { x_m, y_m },
    mass_kg: { low: 0, high: most_kg },
    line,
    fuel_kg: { low: fuel.to_kg, high: fuel.from_kg },
  };
}

/** Over no patient and each patient's range, up to full tanks. */
function fuelFor(
  sheet: Sheet,
  loading: StatedLoading,
  caseWith: (patients: StatedLoading["patients"]) => LoadCase,
): number | null {
  const answers = loading.patients.length === 0 ? [null] : loading.patients;
  return answers
    .flatMap((patient) => {
      const others = loading.patients.filter((other) => other !== patient);
      return subsets(others).map((some): number | null => {
        const load = caseWith(some);
        const tank = load.line.segments.at(-1)!.high_kg;
        const fuel_kg = { low: loading.fuelAtEnd_kg, high: tank };
        const open: OpenLoad =
          patient === null
            ? {
                base: totalsOf(load.cargo),
                station: { x_m: 0, y_m: 0 },
                mass_kg: { low: 0, high: 0 },
                line: load.line,
                fuel_kg,
              }
            : { ...openAt(sheet, load, patient.stretcher, patient.most_kg), fuel_kg };
        return largestFuel(open, load.limits).fuel_kg;
      });
    })
    .reduce(lesser);
}

function hookUpTo(sheet: Sheet, { installed }: LoadedCraft, bare: LoadCase): number | null {
  const { hoist } = sheet;
  if (hoist === undefined || own(installed, hoist.equipment) !== true) return null;
  const { attachment_kg, maxLoad_kg, x_m, y_m } = hoist;
  const open: OpenLoad = {
    base: totalsOf(bare.cargo),
    station: { x_m, y_m },
    mass_kg: { low: attachment_kg, high: Math.max(attachment_kg, maxLoad_kg) },
    line: bare.line,
    fuel_kg: { low: bare.fuel.to_kg, high: bare.fuel.from_kg },
  };
  const reached = intervalWith(safeMasses(open, bare.limits).set, attachment_kg);
  return reached === null ? null : reached.high - attachment_kg;
}
