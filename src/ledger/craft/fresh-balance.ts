// For tests and the demo: an opening balance in which every task of the sheet was just done and every part just fitted.
import { counterNames } from "../../core/facts/due.ts";
import type { Counters } from "../../core/facts/due.ts";
import { dateLater } from "../../core/facts/calendar.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import type { Sheet } from "../../core/sheet/schema.ts";

export const zeroCounters: Counters = Object.fromEntries(counterNames.map((name) => [name, 0])) as Counters;

/** How long ago each matter was done, as a share of its interval: 0 just now, 1 due now. Told by its place in the sheet. */
export type Spread = (index: number) => number;

/** The body of `balance.signed`. `spread` scatters work done over its interval. */
export function freshBalance(
  sheet: Pick<Sheet, "programme" | "components">,
  at_ms: number,
  craftCounters: Counters = zeroCounters,
  spread: Spread = () => 0,
) {
  const today = msToInstant(at_ms).slice(0, 10);
  const daysAgo = (days: number): string => dateLater(today, { days: -Math.floor(days) });
  const at = msToInstant(at_ms);
  let index = 0;
  const share = (): number => spread((index += 1));
  const usedOf = (interval: Partial<Counters> | undefined, part: number): Counters =>
    Object.fromEntries(
      counterNames.map((name) => {
        const used = Math.min(craftCounters[name], (interval?.[name] ?? 0) * part);
        return [name, name === "flightHours_h" ? Number(used.toFixed(1)) : Math.floor(used)];
      }),
    ) as Counters;
  const done = sheet.programme.map(({ id, interval }) => {
    const part = share();
    const used = usedOf(interval, part);
    const days = (interval.calendar_months ?? 0) * 30 + (interval.calendar_days ?? 0);
    const counters = Object.fromEntries(
      counterNames.map((name) => [name, Number((craftCounters[name] - used[name]).toFixed(1))]),
    ) as Counters;
    return { task: id, counters, on: daysAgo(days * part) };
  });
  const components = sheet.components.flatMap(({ id, positions, life, overhaul, dated }) =>
    positions.map((_name, position) => {
      const part = share();
      const months = life?.calendar_months ?? overhaul?.calendar_months ?? 0;
      return {
        component: id,
        position,
        serial: `Q-${100 + index}`,
        sinceNew: usedOf(life ?? overhaul, part),
        sinceOverhaul: usedOf(overhaul, part),
        craftCounters,
        newOn: daysAgo(months * 30 * part),
        overhauledOn: null,
        expiresOn: dated ? dateLater(today, { days: Math.ceil(400 * (1 - part)) + 30 }) : null,
      };
    }),
  );
  return { counters: craftCounters, done, components, obligations: [], words: "opening balance", at };
}
