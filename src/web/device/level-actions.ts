// What is read from gauges and filled in, and what an engineer says of it.
import { msToInstant } from "../../core/facts/instant.ts";
import { airframeHours } from "../../core/level/airframe-hours.ts";
import { randomHex } from "./device-core.ts";
import type { DeviceCore } from "./device-core.ts";
import type { LevelWord, NewLevels, NewReading, NewUplift } from "./model.ts";
import type { StopDrafts } from "./stop-drafts.ts";

export class LevelActions {
  readonly #core: DeviceCore;
  readonly #drafts: StopDrafts;

  constructor(core: DeviceCore, drafts: StopDrafts) {
    this.#core = core;
    this.#drafts = drafts;
  }

  readonly read = async (ledger: string, gauge: string, taken: NewReading): Promise<void> => {
    const reading = { ...taken, hours_h: hoursNow_h(this.#core, ledger) };
    if (this.#core.draftOf(ledger) !== null) {
      await this.#drafts.tap(ledger, { readings: { [gauge]: reading } });
      return;
    }
    await this.#core.record(() =>
      this.#core.write(ledger, "reading.taken", { gauge, ...reading, at: msToInstant(this.#core.now_ms()) }),
    );
  };

  readonly fill = async (ledger: string, { at_ms, ...filled }: NewUplift): Promise<void> => {
    await this.#core.record(() => {
      const { sheet, state } = this.#core.view(ledger);
      const hours = sheet === null ? null : airframeHours(sheet, state)(at_ms);
      const hours_h = hours === null ? null : Number(hours.toFixed(2));
      const uplift = `uplift-${randomHex(12)}`;
      return this.#core.write(ledger, "uplift.added", { uplift, ...filled, hours_h, at: msToInstant(at_ms) });
    });
  };

  readonly importLevels = async (ledger: string, { from, readings, uplifts }: NewLevels): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "readings.imported", {
        import: `import-${randomHex(12)}`,
        from,
        readings,
        uplifts: uplifts.map((uplift) => ({ uplift: `uplift-${randomHex(12)}`, ...uplift })),
      }),
    );
  };

  readonly withdrawReading = async (
    ledger: string,
    gauge: string,
    reading: string,
    words: string,
  ): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "reading.withdrawn", {
        gauge,
        reading,
        words,
        at: msToInstant(this.#core.now_ms()),
      }),
    );
  };

  readonly settleLevel = async (ledger: string, word: LevelWord): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "level.settled", { ...word, at: msToInstant(this.#core.now_ms()) }),
    );
  };
}

/** Airframe hours now, as far as the record tells them. */
export function hoursNow_h(core: DeviceCore, ledger: string): number | null {
  const { sheet, state } = core.view(ledger);
  const hours = sheet === null ? null : airframeHours(sheet, state)(core.now_ms());
  return hours === null ? null : Number(hours.toFixed(2));
}
