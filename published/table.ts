// A published table beside what the program computes: the worst error of each column, against a tolerance with a reason.
//
// A measure names for one row the columns that the row gives and both values; the table collects them. Nothing is
// dropped: a row that gives no column, a column that no row gives, and a value that is not finite are faults here.

export type Tolerance = { readonly within: number; readonly unit: string; readonly because: string };

export type Pair = readonly [computed: number, published: number];

export type Column = Tolerance & {
  readonly name: string;
  /** How many rows gave this column. */
  readonly count: number;
  readonly worst: number;
  /** The row of the worst error, counted from 0. */
  readonly at: number;
};

export type Table = { readonly title: string; readonly rows: number; readonly columns: readonly Column[] };

export function measureTable<Row>(
  title: string,
  rows: readonly Row[],
  tolerances: Readonly<Record<string, Tolerance>>,
  measure: (row: Row) => Readonly<Record<string, Pair>>,
): Table {
  const worst = new Map<string, { count: number; worst: number; at: number }>();
  rows.forEach((row, index) => {
    const pairs = Object.entries(measure(row));
    if (pairs.length === 0) throw new Error(`${title}: row ${index} was measured in no column`);
    for (const [name, [computed, published]] of pairs) {
      if (!Number.isFinite(computed) || !Number.isFinite(published)) {
        throw new Error(`${title}, ${name}: row ${index} compares ${computed} with ${published}`);
      }
      const error = Math.abs(computed - published);
      const seen = worst.get(name) ?? { count: 0, worst: -1, at: -1 };
      worst.set(name, {
        count: seen.count + 1,
        worst: Math.max(seen.worst, error),
        at: error > seen.worst ? index : seen.at,
      });
    }
  });
  const columns = Object.entries(tolerances).map(([name, tolerance]) => {
    const seen = worst.get(name);
    if (seen === undefined) throw new Error(`${title}: no row gives ${name}`);
    worst.delete(name);
    return { name, ...tolerance, ...seen };
  });
  if (worst.size > 0) throw new Error(`${title}: no tolerance for ${[...worst.keys()].join(", ")}`);
  return { title, rows: rows.length, columns };
}

/** Columns whose worst error is beyond their tolerance, as lines to read. */
export function beyondTolerance(table: Table): string[] {
  return table.columns
    .filter((column) => !(column.worst <= column.within))
    .map(
      ({ name, worst, unit, within, at }) =>
        `${table.title}: ${name} is ${worst} ${unit} off in row ${at}, ${within} allowed`,
    );
}

/** Prints the worst error of each column. */
export function printTable(table: Table): void {
  const lines = table.columns.map(
    ({ name, count, worst, unit, within, because }) =>
      `    ${name}: ${worst.toPrecision(3)} ${unit} over ${count} rows (${Number(within.toPrecision(3))} allowed: ${because})`,
  );
  process.stdout.write(`  ${table.title}, ${table.rows} rows\n${lines.join("\n")}\n`);
}
