// Every entry type of a craft's ledger, and the state that its fold begins with.
import { emptyCraft } from "../../core/facts/craft.ts";
import type { CraftState } from "../../core/facts/craft.ts";
import type { LedgerDefinition } from "../fold.ts";
import { callEntries } from "./call-entries.ts";
import { craftEntries } from "./craft-entries.ts";
import { closureEntries } from "./closure-entries.ts";
import { crewEntries } from "./crew-entries.ts";
import { dueEntries } from "./due-entries.ts";
import { findingEntries } from "./finding-entries.ts";
import { flightEntries } from "./flight-entries.ts";
import { handoverEntries } from "./handover-entries.ts";
import { loadEntries } from "./load-entries.ts";
import { lookAlikeEntries } from "./look-alike-entries.ts";
import { readingEntries } from "./reading-entries.ts";
import { walkEntries } from "./walk-entries.ts";

export const craftLedger: LedgerDefinition<CraftState> = {
  initial: emptyCraft,
  types: [
    ...craftEntries,
    ...walkEntries,
    ...closureEntries,
    ...readingEntries,
    ...findingEntries,
    ...flightEntries,
    ...loadEntries,
    ...callEntries,
    ...dueEntries,
    ...crewEntries,
    ...handoverEntries,
    ...lookAlikeEntries,
  ],
};
