// The magnetic field against the official values of the World Magnetic Model 2025: magnetic-field-tables.ts.

import * as magneticField from "../src/core/air/magnetic-field.ts";
import { holdTables, noticeChanges } from "./hold.ts";
import { magneticFieldTables } from "./magnetic-field-tables.ts";

holdTables("the magnetic field", magneticFieldTables(magneticField), {
  "official values of high precision": 67,
  "official values of the report": 12,
  "the report's worked example": 1,
});

const file = "air/magnetic-field.ts";
const coefficients = "air/wmm2025.ts";
noticeChanges(
  [
    { file, from: "semiMajorM = 6_378_137", to: "semiMajorM = 6_378_140" },
    { file, from: "298.257223563", to: "298.25" },
    { file: coefficients, from: "referenceRadiusM: 6_371_200", to: "referenceRadiusM: 6_371_201" },
    { file: coefficients, from: "epochYear: 2025", to: "epochYear: 2024.9" },
    { file: coefficients, from: "[1, 0, -29351.8, 0, 12, 0]", to: "[1, 0, -29351.7, 0, 12, 0]" },
    {
      file: coefficients,
      from: "[1, 1, -1410.8, 4545.4, 9.7, -21.5]",
      to: "[1, 1, -1410.8, 4545.4, 9.7, 21.5]",
    },
    { file, from: "(2 * n - 1) / (2 * n)", to: "(2 * n - 1) / (2 * n + 1)" },
    { file, from: "north * cosTurn - down * sinTurn", to: "north * cosTurn + down * sinTurn" },
  ],
  { file, from: "298.257223563" },
  {
    folders: ["air", "quantity"],
    entry: file,
    tables: (module) => magneticFieldTables(module as typeof magneticField),
  },
);
