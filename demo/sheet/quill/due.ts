// The Quill's maintenance programme and serialised components. All intervals invented.

import type { Sheet } from "../../../src/core/sheet/schema.ts";
import { t } from "./author.ts";
import type { Element } from "./author.ts";

const check = (
  id: string,
  ata: string,
  name: Element<"programme">["name"],
  interval: Element<"programme">["interval"],
  rest: Partial<Element<"programme">> = {},
): Element<"programme"> => ({ id, ata, name, interval, takesAway: "all", by: "engineer", ...rest });

export const programme: Sheet["programme"] = [
  check(
    "h50",
    "05",
    t("50-hour inspection", "50-Stunden-Kontrolle"),
    { flightHours_h: 50, calendar_months: 3 },
    { tolerance: { flightHours_h: 5 } },
  ),
  check(
    "h100",
    "05",
    t("100-hour inspection", "100-Stunden-Kontrolle"),
    { flightHours_h: 100 },
    { tolerance: { flightHours_h: 10 } },
  ),
  check(
    "h600",
    "05",
    t("600-hour inspection", "600-Stunden-Kontrolle"),
    { flightHours_h: 600, calendar_months: 24 },
    { tolerance: { flightHours_h: 30 } },
  ),
  check("annual", "05", t("annual inspection", "Jahresnachprüfung"), { calendar_months: 12 }),
  check(
    "engineOilChange",
    "79",
    t("engine oil and filter", "Triebwerksöl und Filter"),
    { flightHours_h: 300, calendar_months: 12 },
    { tolerance: { flightHours_h: 15 } },
  ),
  check(
    "tailGrease",
    "64",
    t("tail rotor bearings greased", "Heckrotorlager abgeschmiert"),
    { flightHours_h: 25, calendar_days: 30 },
    { tolerance: { flightHours_h: 2 } },
  ),
  check(
    "engineWash",
    "72",
    t("compressor wash", "Verdichterwäsche"),
    { flightHours_h: 25, calendar_days: 14 },
    { by: "technicalCrew", tolerance: { flightHours_h: 5, calendar_days: 3 } },
  ),
  check(
    "hoist200",
    "25",
    t("hoist inspection", "Windenkontrolle"),
    { hoistCycles: 200, calendar_months: 6 },
    { equipment: "hoist", takesAway: ["hoist"] },
  ),
  check(
    "altimeterTest",
    "34",
    t("pitot and static test", "Staurohr- und Statikprüfung"),
    { calendar_months: 24 },
    { takesAway: ["ifr", "nvis", "nightVfr"] },
  ),
  check("beaconTest", "25", t("emergency beacon test", "Prüfung des Notsenders"), { calendar_months: 12 }),
  check(
    "compassSwing",
    "34",
    t("compass swing", "Kompasskompensierung"),
    { calendar_months: 24 },
    { takesAway: ["ifr"] },
  ),
  check(
    "floatsCheck",
    "32",
    t("float system check", "Prüfung der Notschwimmer"),
    { calendar_months: 12 },
    { equipment: "emergencyFloats", takesAway: ["overWater"] },
  ),
  check(
    "powerCheck",
    "71",
    t("engine power check", "Leistungsprüfung der Triebwerke"),
    { flightHours_h: 50 },
    { by: "technicalCrew", tolerance: { flightHours_h: 5 } },
  ),
];

const one = (en: string, de: string) => [t(en, de)];
const both = [t("left", "links"), t("right", "rechts")];
const six = [1, 2, 3, 4, 5, 6].map((place) => t(`position ${place}`, `Platz ${place}`));
const part = (
  id: string,
  ata: string,
  name: Element<"components">["name"],
  positions: Element<"components">["positions"],
  rest: Partial<Element<"components">>,
): Element<"components"> => ({ id, ata, name, positions, dated: false, takesAway: "all", ...rest });

export const components: Sheet["components"] = [
  part("engine", "72", t("engine", "Triebwerk"), both, { overhaul: { flightHours_h: 3600 } }),
  part("mainGearbox", "63", t("main gearbox", "Hauptgetriebe"), one("deck", "Deck"), {
    overhaul: { flightHours_h: 4200, calendar_months: 180 },
  }),
  part("tailGearbox", "65", t("tail gearbox", "Heckgetriebe"), one("fin", "Flosse"), {
    overhaul: { flightHours_h: 3000 },
  }),
  part("mainBlade", "62", t("main rotor blade", "Hauptrotorblatt"), six, { life: { flightHours_h: 9000 } }),
  part("damper", "62", t("lag damper", "Schwenkdämpfer"), six, {
    life: { flightHours_h: 1800, calendar_months: 120 },
  }),
  part(
    "tailBlade",
    "64",
    t("tail rotor blade", "Heckrotorblatt"),
    [1, 2, 3, 4].map((place) => t(`position ${place}`, `Platz ${place}`)),
    { life: { flightHours_h: 5000 } },
  ),
  part("starter", "80", t("starter-generator", "Anlassergenerator"), both, {
    overhaul: { flightHours_h: 1200, starts: 3500 },
  }),
  part("fireCartridge", "26", t("fire bottle cartridge", "Ladung der Löschflasche"), both, {
    life: { calendar_months: 72 },
    dated: true,
  }),
  part("hoistCable", "25", t("hoist cable", "Windenseil"), one("drum", "Trommel"), {
    life: { hoistCycles: 1500, calendar_months: 60 },
    equipment: "hoist",
    takesAway: ["hoist"],
    spares: 1,
  }),
  part("cutterCartridge", "25", t("cable cutter cartridge", "Kappladung"), one("boom", "Ausleger"), {
    life: { calendar_months: 60 },
    dated: true,
    equipment: "hoist",
    takesAway: ["hoist"],
  }),
  part("hoistHook", "25", t("hoist hook", "Windenhaken"), one("end of the cable", "Seilende"), {
    overhaul: { hoistCycles: 750, calendar_months: 24 },
    dated: true,
    equipment: "hoist",
    takesAway: ["hoist"],
  }),
  part("floatBottle", "32", t("float bottle", "Schwimmerflasche"), one("belly", "Rumpfunterseite"), {
    overhaul: { calendar_months: 60 },
    dated: true,
    equipment: "emergencyFloats",
    takesAway: ["overWater"],
  }),
  part("oxygenBottle", "35", t("oxygen bottle", "Sauerstoffflasche"), one("right side", "rechte Seite"), {
    overhaul: { calendar_months: 120 },
    dated: true,
    equipment: "medicalOxygen",
    takesAway: ["transfer"],
  }),
  part("raft", "25", t("life raft", "Rettungsfloß"), one("rear bay", "Gepäckraum"), {
    overhaul: { calendar_months: 12 },
    dated: true,
    equipment: "lifeRaft",
    takesAway: ["overWater"],
  }),
  part(
    "beaconBattery",
    "25",
    t("emergency beacon battery", "Batterie des Notsenders"),
    one("rear bay", "Gepäckraum"),
    { dated: true },
  ),
  part("mainBattery", "24", t("main battery", "Hauptbatterie"), one("nose", "Nase"), {
    overhaul: { calendar_months: 6 },
  }),
];
