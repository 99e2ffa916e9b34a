// Least squares and Student's t against NIST's certified values and R: regression-tables.ts. Of NIST's linear sets those
// with one regressor are taken; Pontius (a parabola) and Longley (six regressors) are other models.

import * as regression from "../src/core/level/regression.ts";
import * as studentT from "../src/core/level/student-t.ts";
import { holdTables, noticeChanges } from "./hold.ts";
import { regressionTables, studentTables } from "./regression-tables.ts";

holdTables("the line through points", regressionTables(regression), {
  "certified fits": 3,
  "predictions for Norris": 4,
  "predictions for cars": 4,
});

holdTables("Student's t", studentTables(studentT), {
  "Student's t quantiles": 11,
  "Student's t distribution": 5,
});

const file = "level/regression.ts";
noticeChanges(
  [
    { file, from: "hasIntercept ? 2 : 1", to: "hasIntercept ? 1 : 1" },
    { file, from: "1 / x.length + meanOverSpread", to: "meanOverSpread" },
    { file, from: '(of === "point" ? 1 : 0)', to: '(of === "point" ? 1 : 1)' },
    { file: "level/double-double.ts", from: "splitter = 134_217_729", to: "splitter = 134_217" },
  ],
  { file, from: "hasIntercept ? 2 : 1" },
  {
    folders: ["level", "quantity"],
    entry: file,
    tables: (module) => regressionTables(module as typeof regression),
  },
);

const student = "level/student-t.ts";
noticeChanges(
  [
    { file: student, from: "u * (1 / 128", to: "u * (1 / 127" },
    { file: student, from: "at / (at + 0.5)", to: "at / (at + 0.5000001)" },
    { file: student, from: "/ 0.5) * betaFraction", to: "/ 0.501) * betaFraction" },
  ],
  { file: student, from: "u * (1 / 128" },
  {
    folders: ["level", "quantity"],
    entry: student,
    tables: (module) => studentTables(module as typeof studentT),
  },
);
