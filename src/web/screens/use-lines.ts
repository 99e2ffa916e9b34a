// The entries of a craft for a screen that lists them: read when the first one asks.
import { useEffect } from "react";
import type { CraftView, LedgerLine } from "../device/model.ts";
import { useApp } from "./app-context.tsx";

/** Null until they have been read. */
export function useLines({ ledger, lines }: CraftView): readonly LedgerLine[] | null {
  const { device } = useApp();
  useEffect(() => {
    if (lines === null) void device.readRecord(ledger);
  }, [device, ledger, lines]);
  return lines;
}
