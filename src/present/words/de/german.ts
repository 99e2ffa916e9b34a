import { app } from "./app.ts";
import { duty } from "./duty.ts";
import { entry } from "./entry.ts";
import { finding } from "./finding.ts";
import { ledger } from "./ledger.ts";
import { screens } from "./screens.ts";
import { standing } from "./standing.ts";
import { units } from "./units.ts";
import { walk } from "./walk.ts";
import type { Words } from "../words.ts";

export const german: Words = {
  app,
  duty,
  entry,
  finding,
  ledger,
  screens,
  standing,
  units,
  walk,
};
