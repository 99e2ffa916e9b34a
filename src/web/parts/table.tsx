// A table for a desk: native, with its caption; where it is wider than the screen it scrolls by itself, by keyboard too.
import { useId } from "react";
import type { ReactNode } from "react";

export type Column<Row> = {
  readonly id: string;
  readonly head: string;
  readonly cell: (row: Row) => ReactNode;
  /** Numbers and times stand in the mono, at the right edge. */
  readonly kind?: "text" | "number" | "name";
};

type TableProps<Row> = {
  readonly caption: string;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  readonly rowId: (row: Row) => string;
};

export function Table<Row>({ caption, columns, rows, rowId }: TableProps<Row>) {
  const id = useId();
  return (
    // A region that scrolls must be reachable by keyboard (WCAG 2.1.1).
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
    <section className="table-scroll" aria-labelledby={id} tabIndex={0}>
      <table className="table">
        <caption id={id} className="title">
          <b>{caption}</b>
        </caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column.id} scope="col" data-align={column.kind === "number" ? "end" : undefined}>
                {column.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={rowId(row)}>
              {columns.map((column) => (
                <Cell key={column.id} column={column} row={row} />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Cell<Row>({ column, row }: { readonly column: Column<Row>; readonly row: Row }) {
  if (column.kind === "name") return <th scope="row">{column.cell(row)}</th>;
  const number = column.kind === "number";
  return (
    <td data-align={number ? "end" : undefined} className={number ? "mono" : undefined}>
      {column.cell(row)}
    </td>
  );
}
