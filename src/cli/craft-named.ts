// Finds a craft by its ledger (`craft:tinde`), the end of it (`tinde`), or its name (`Tinde`), whatever its letters' case.
import type { CraftState } from "../core/facts/craft.ts";
import type { Folded } from "../ledger/fold.ts";
import type { OpenRecord } from "./record.ts";
import { UsageError } from "./words.ts";

export function craftNamed({ craft }: OpenRecord, wanted: string): readonly [string, Folded<CraftState>] {
  const plain = wanted.toLocaleLowerCase("en");
  for (const [ledger, folded] of craft) {
    const names = [ledger, ledger.replace("craft:", ""), folded.state.opened?.name.toLocaleLowerCase("en")];
    if (names.includes(plain)) return [ledger, folded];
  }
  const known = [...craft.keys()].map((ledger) => ledger.replace("craft:", "")).toSorted();
  throw new UsageError(
    `no craft is called ${JSON.stringify(wanted)}; there are ${known.join(", ") || "none"}`,
  );
}
