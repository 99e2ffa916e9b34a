// The people, the base and the craft of the demo: invented throughout. No real person, operator, place of business,
// registration or aircraft type is meant; the island lies in the open sea. The PINs are printed at start, on purpose:
// nothing here guards anything.

/**
 * How much of the history is told entry by entry. `months`: the record of each craft is fourteen months old. `fortnight`: it
 * begins two weeks ago, with the older readings imported from a log; for tests, and for a quick look.
 */
export const demoSpans = ["months", "fortnight"] as const;
export type DemoSpan = (typeof demoSpans)[number];

export type DemoPerson = {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly string[];
  readonly pin: string;
};

export const demoOperator = { id: "operator:skarvoy-rescue", name: "Skarvøy Rescue (invented)" } as const;

export const demoBase = {
  id: "base:skarvoy",
  name: "Skarvøy",
  lat_deg: 70.2,
  lon_deg: 12.5,
  elevation_m: 11,
  zone: "Europe/Oslo",
} as const;

/** Kit that every craft carries, weighed. */
export const demoKit = [
  { kit: "medicalBag", name: "medical bag", mass_kg: 14.2, at: "cabinFloor" },
  { kit: "childBag", name: "child bag", mass_kg: 6.5, at: "cabinFloor" },
  { kit: "monitor", name: "monitor", mass_kg: 8.1, at: "cabinRack" },
  { kit: "rescueBag", name: "rescue bag", mass_kg: 11.8, at: "rearBay" },
  { kit: "ropes", name: "ropes", mass_kg: 17.5, at: "rearBay" },
] as const;

export const demoPeople: readonly DemoPerson[] = [
  { id: "p-ravn", name: "Ravn", roles: ["pilot"], pin: "2580" },
  { id: "p-holm", name: "Holm", roles: ["pilot"], pin: "1470" },
  { id: "p-lind", name: "Lind", roles: ["crewMember"], pin: "3690" },
  { id: "p-moe", name: "Moe", roles: ["crewMember"], pin: "1593" },
  { id: "p-brekke", name: "Brekke", roles: ["engineer"], pin: "7412" },
  { id: "p-foss", name: "Foss", roles: ["engineer"], pin: "6280" },
  { id: "p-sund", name: "Sund", roles: ["airworthiness"], pin: "8520" },
  { id: "p-vik", name: "Vik", roles: ["administrator"], pin: "9630" },
];

export type DemoCraft = {
  readonly ledger: string;
  readonly name: string;
  readonly variant: string;
  readonly pilot: string;
  readonly crew: string;
  /** As weighed, dressed. */
  readonly pilot_kg: number;
  /** What is installed; everything else of the catalogue is not. */
  readonly equipment: readonly string[];
};

const usual = [
  "hoistMount",
  "emergencyFloats",
  "particleSeparators",
  "searchlight",
  "stretcher",
  "medicalOxygen",
  "medicalRack",
  "lifeRaft",
  "nvisCockpit",
  "autopilot",
  "movingMap",
  "wireCutter",
] as const;

export const demoCraft: readonly DemoCraft[] = [
  {
    ledger: "craft:tinde",
    name: "Tinde",
    variant: "2",
    pilot: "p-ravn",
    crew: "p-lind",
    pilot_kg: 86,
    equipment: [...usual, "hoist"],
  },
  {
    ledger: "craft:skjaer",
    name: "Skjær",
    variant: "2H",
    pilot: "p-holm",
    crew: "p-lind",
    pilot_kg: 79,
    equipment: [...usual, "weatherRadar"],
  },
  {
    ledger: "craft:myr",
    name: "Myr",
    variant: "2",
    pilot: "p-ravn",
    crew: "p-lind",
    pilot_kg: 86,
    equipment: usual.filter((equipment) => equipment !== "emergencyFloats"),
  },
];
