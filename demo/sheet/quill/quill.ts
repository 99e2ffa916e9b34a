// The demo sheet, put together. Written to quill.json by write-sheets.ts; the file is what is loaded.

import type { Sheet } from "../../../src/core/sheet/schema.ts";
import { closures, equipment, order, outline, stops, type, zones } from "./aircraft.ts";
import { t } from "./author.ts";
import { charts } from "./charts.ts";
import { components, programme } from "./due.ts";
import {
  compartments,
  envelopes,
  fuelFlow,
  hoistBlock,
  kitLists,
  masses,
  operations,
  seats,
  sequence,
  speeds,
  stretchers,
  tanks,
  walkValidity,
  ice,
  windLimits,
} from "./flying.ts";
import * as front from "./items-front.ts";
import * as inside from "./items-inside.ts";
import * as sides from "./items-sides.ts";
import * as tail from "./items-tail.ts";
import * as upper from "./items-upper.ts";
import { damage, deferrals, events } from "./judging.ts";
import { fluids, gauges } from "./levels.ts";

const handbook = { document: "Quill flight manual (invented)", revision: "4" };
const maintenance = { document: "Quill maintenance programme (invented)", revision: "7" };
const operation = { document: "Operations manual part B (invented)", revision: "11" };

const items = { ...front, ...inside, ...sides, ...tail, ...upper };

export const quill: Sheet = {
  $schema: "../../src/core/sheet/sheet.schema.json",
  format: "preen-sheet-1",
  id: "quill",
  revision: "1",
  title: t("Quill, light twin", "Quill, leichter Zweimotoriger"),
  note: t(
    "The Quill does not exist. Every number and every sentence here is invented for the demonstration and holds for no aircraft.",
    "Den Quill gibt es nicht. Jede Zahl und jeder Satz hier ist für die Vorführung erfunden und gilt für kein Luftfahrzeug.",
  ),
  sources: {
    type: { ...handbook, page: "1-2" },
    outline: { ...handbook, page: "1-3" },
    order: { ...operation, page: "2-1" },
    walkValidity: { ...operation, page: "2-2" },
    sequence: { ...operation, page: "2-9" },
    masses: { ...operation, page: "6-1" },
    charts: { ...handbook, page: "5-1" },
    fuelFlow: { ...handbook, page: "5-20" },
    speeds: { ...handbook, page: "2-6" },
    zones: { ...operation, page: "2-1" },
    equipment: { ...handbook, page: "6-4" },
    stops: { ...operation, page: "2-1" },
    items: { ...handbook, page: "4-3" },
    closures: { ...handbook, page: "4-2" },
    gauges: { ...handbook, page: "2-10" },
    fluids: { ...handbook, page: "8-2" },
    damage: { ...maintenance, page: "12-1" },
    deferrals: { ...operation, page: "9-1" },
    events: { ...maintenance, page: "5-50" },
    seats: { ...handbook, page: "6-6" },
    stretchers: { ...handbook, page: "6-7" },
    compartments: { ...handbook, page: "6-8" },
    kitLists: { ...operation, page: "6-3" },
    tanks: { ...handbook, page: "6-9" },
    envelopes: { ...handbook, page: "2-8" },
    operations: { ...operation, page: "3-1" },
    windLimits: { ...handbook, page: "2-5" },
    ice: { ...handbook, page: "2-6" },
    programme: { ...maintenance, page: "5-1" },
    components: { ...maintenance, page: "4-1" },
    hoist: { ...handbook, page: "9-12" },
  },
  type,
  outline,
  order,
  walkValidity,
  sequence,
  masses,
  charts,
  fuelFlow,
  speeds,
  hoist: hoistBlock,
  zones,
  equipment,
  stops,
  items: stops.flatMap((stop) => items[stop.id as keyof typeof items]),
  closures,
  gauges,
  fluids,
  damage,
  deferrals,
  events,
  seats,
  stretchers,
  compartments,
  kitLists,
  tanks,
  envelopes,
  operations,
  ice,
  windLimits,
  programme,
  components,
};
