import { units as english } from "../en/units.ts";

/** Symbols of units are international; only what is a word has a German one. */
export const units: typeof english = { ...english, d: "Tage" };
