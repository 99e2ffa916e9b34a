// Minima of helicopter air ambulance under the US rules, in feet above ground and statute miles.
//
// Source: 14 CFR 135.609(a), 79 FR 9975 (21 February 2014): official copies seen print the table as an image, the cells
// are from memory and agree with one unofficial transcription. 135.613(a)(2), 135.205(b), 91.155(a): text.
// Checked in published/minima.test.ts.
import type { Citation } from "./cited.ts";
import type { MinimaStep } from "./minima-table.ts";

/** Metres in a statute mile, exactly. */
export const statuteMile_m = 1609.344;

export const usAmbulanceCitation: Citation = {
  cite: "14 CFR 135.609(a)",
  edition: "79 FR 9975, 21 February 2014",
  status: "memory+secondary",
};

type Cell = readonly [ceiling_ft: number, visibility_SM: number];
type Cells = { readonly day: Cell; readonly nightAided: Cell; readonly nightUnaided: Cell };

/** Aided: night-vision imaging or terrain awareness aboard. */
const cells = {
  flat: {
    local: { day: [800, 2], nightAided: [800, 3], nightUnaided: [1000, 3] },
    distant: { day: [800, 3], nightAided: [1000, 3], nightUnaided: [1000, 5] },
  },
  mountainous: {
    local: { day: [800, 3], nightAided: [1000, 3], nightUnaided: [1500, 3] },
    distant: { day: [1000, 3], nightAided: [1000, 5], nightUnaided: [1500, 5] },
  },
} as const satisfies Record<string, Record<string, Cells>>;

export function usAmbulanceStep(
  mountainous: boolean,
  local: boolean,
  light: keyof Cells,
): readonly [MinimaStep] {
  const [ceilingFrom_ft, visibility_SM] =
    cells[mountainous ? "mountainous" : "flat"][local ? "local" : "distant"][light];
  return [{ ceilingFrom_ft, visibility_m: visibility_SM * statuteMile_m }];
}

/** Between an instrument approach's missed approach point and a landing area within 3 NM of it: 135.613(a)(2). */
export const usProceedVisually = {
  citation: { cite: "14 CFR 135.613(a)(2)", edition: "2014", status: "text" } satisfies Citation,
  distance_nm: 3,
  day: { ceilingFrom_ft: 600, visibility_m: 2 * statuteMile_m },
  night: { ceilingFrom_ft: 600, visibility_m: 3 * statuteMile_m },
} as const;

/** Helicopters in class G at or below 1200 ft above ground: 135.205(b) and 91.155(a), the same figures. */
export const usUncontrolled = {
  citation: {
    cite: "14 CFR 135.205(b), 91.155(a)",
    edition: "as stored 2025",
    status: "text",
  } satisfies Citation,
  day_m: 0.5 * statuteMile_m,
  night_m: statuteMile_m,
} as const;

/** Clearance above the highest obstacle of the route: 135.615(b). */
export const usObstacleClearance = {
  citation: { cite: "14 CFR 135.615(b)", edition: "2014", status: "text" } satisfies Citation,
  day_ft: 300,
  night_ft: 500,
} as const;
