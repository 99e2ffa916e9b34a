// Comma-separated values as text: RFC 4180. Quotes where a cell needs them, CRLF between records, no byte order mark.
//
// Read strictly: a quote inside an unquoted cell, text after a closing quote, or a quoted cell that never ends are faults of
// that line. Lines may end in LF alone, and a byte order mark is passed over: that is what spreadsheets write.

export type CsvRow = { readonly line: number; readonly cells: readonly string[] };
export type CsvFault = { readonly line: number; readonly why: "quoteInside" | "afterQuote" | "neverEnds" };

export function csvText(rows: readonly (readonly string[])[]): string {
  return rows.map((cells) => `${cells.map(cellText).join(",")}\r\n`).join("");
}

function cellText(cell: string): string {
  return /[",\r\n]/u.test(cell) || cell !== cell.trim() ? `"${cell.replaceAll('"', '""')}"` : cell;
}

/** The records with the line on which each begins; a line with nothing on it is none. */
export function readCsv(text: string): {
  readonly rows: readonly CsvRow[];
  readonly faults: readonly CsvFault[];
} {
  const rows: CsvRow[] = [];
  const faults: CsvFault[] = [];
  const from = text.startsWith("\uFEFF") ? 1 : 0;
  let at = from;
  let line = 1;
  while (at < text.length) {
    const began = line;
    const cells: string[] = [];
    let fault: CsvFault["why"] | null = null;
    for (;;) {
      const cell = readCell(text, at);
      line += countLines(text, at, cell.end);
      fault ??= cell.fault;
      cells.push(cell.value);
      at = cell.end;
      if (text[at] !== ",") break;
      at += 1;
    }
    if (text[at] === "\r" && text[at + 1] === "\n") at += 2;
    else at += 1;
    line += 1;
    if (fault !== null) faults.push({ line: began, why: fault });
    else if (cells.length > 1 || cells[0] !== "") rows.push({ line: began, cells });
  }
  return { rows, faults };
}

type Cell = { readonly value: string; readonly end: number; readonly fault: CsvFault["why"] | null };

/** One cell from a position to the comma or the end of the line after it. */
function readCell(text: string, from: number): Cell {
  if (text[from] !== '"') {
    const end = endOfPlain(text, from);
    const value = text.slice(from, end);
    return { value, end, fault: value.includes('"') ? "quoteInside" : null };
  }
  let at = from + 1;
  let value = "";
  for (;;) {
    const quote = text.indexOf('"', at);
    if (quote < 0) return { value, end: text.length, fault: "neverEnds" };
    value += text.slice(at, quote);
    if (text[quote + 1] !== '"') {
      const end = endOfPlain(text, quote + 1);
      return { value, end, fault: end === quote + 1 ? null : "afterQuote" };
    }
    value += '"';
    at = quote + 2;
  }
}

function endOfPlain(text: string, from: number): number {
  let at = from;
  while (
    at < text.length &&
    text[at] !== "," &&
    text[at] !== "\n" &&
    !(text[at] === "\r" && text[at + 1] === "\n")
  )
    at += 1;
  return at;
}

function countLines(text: string, from: number, until: number): number {
  let count = 0;
  for (let at = text.indexOf("\n", from); at >= 0 && at < until; at = text.indexOf("\n", at + 1)) count += 1;
  return count;
}
