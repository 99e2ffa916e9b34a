import type { ledger as english } from "../en/ledger.ts";
import { plural } from "../plural.ts";

export const ledger: typeof english = {
  entries: (count) => plural("de", count, { one: "1 Eintrag", other: `${count} Einträge` }),
  by: (person) => `von ${person}`,
  corrected: "später berichtigt",
  erased: "auf Anordnung gelöscht",
  notSent: "nicht gesendet",
  setAside: "beiseitegelegt",
  none: "Noch nichts aufgezeichnet",
  noneBody: "Alles, was du aufzeichnest, wird hier eine Zeile und wird nie überschrieben.",
};
