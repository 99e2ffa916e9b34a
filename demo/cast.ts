// The people, the base and the craft of the demo: invented throughout. No real person, operator, place of business,
// registration or aircraft type is meant; the island lies in the open sea. The PINs are printed at start, on purpose:
// nothing here guards anything.
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

export const demoPeople: readonly DemoPerson[] = [
  { id: "p-ravn", name: "Ravn", roles: ["pilot"], pin: "2580" },
  { id: "p-holm", name: "Holm", roles: ["pilot"], pin: "1470" },
  { id: "p-lind", name: "Lind", roles: ["crewMember"], pin: "3690" },
  { id: "p-brekke", name: "Brekke", roles: ["engineer"], pin: "7412" },
  { id: "p-sund", name: "Sund", roles: ["airworthiness"], pin: "8520" },
  { id: "p-vik", name: "Vik", roles: ["administrator"], pin: "9630" },
];

export type DemoCraft = {
  readonly ledger: string;
  readonly name: string;
  readonly variant: string;
  readonly pilot: string;
  readonly crew: string;
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
    equipment: [...usual, "hoist"],
  },
  {
    ledger: "craft:skjaer",
    name: "Skjær",
    variant: "2H",
    pilot: "p-holm",
    crew: "p-lind",
    equipment: [...usual, "weatherRadar", "snowBoards"],
  },
  {
    ledger: "craft:myr",
    name: "Myr",
    variant: "2",
    pilot: "p-ravn",
    crew: "p-lind",
    equipment: usual.filter((equipment) => equipment !== "emergencyFloats"),
  },
];
