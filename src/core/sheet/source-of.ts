// Where a line of the sheet comes from, as a reason cites it: the element's own source if it has one, else its block's.

import type { Source } from "../facts/reason.ts";
import type { SheetSource } from "./parts.ts";
import type { Sheet } from "./schema.ts";

type Block = keyof Sheet["sources"];

/**
 * @param block the block of the sheet, for example `gauges`
 * @param index the element's place in a block that is a list
 * @param below the rest of the path, for example `needs.equipment`
 */
export function sheetSource(
  sheet: Sheet,
  block: Block,
  index?: number,
  below?: string,
): Extract<Source, { kind: "sheet" }> {
  const place = index === undefined ? block : `${block}[${index}]`;
  const list: unknown = sheet[block];
  const element: unknown = Array.isArray(list) && index !== undefined ? list[index] : undefined;
  const own = hasSource(element) ? element.source : undefined;
  const source = own ?? sheet.sources[block];
  return {
    kind: "sheet",
    path: below === undefined ? place : `${place}.${below}`,
    cite: source === undefined ? null : citeText(source),
  };
}

const hasSource = (element: unknown): element is { readonly source: SheetSource | undefined } =>
  typeof element === "object" && element !== null && "source" in element;

const citeText = ({ document, revision, page }: SheetSource): string =>
  [document, revision, ...(page === undefined ? [] : [page])].join(", ");
