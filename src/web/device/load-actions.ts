// What is aboard, and what the craft weighs.
import { msToInstant } from "../../core/facts/instant.ts";
import type { StatedLoading } from "../../core/load/judge-loading.ts";
import type { DeviceCore } from "./device-core.ts";
import type { NewWeighing } from "./model.ts";

export class LoadActions {
  readonly #core: DeviceCore;

  constructor(core: DeviceCore) {
    this.#core = core;
  }

  readonly sayLoading = async (
    ledger: string,
    loading: StatedLoading,
    replaces: readonly string[],
  ): Promise<void> => {
    const { persons, patients, kit, kitList, fuel_kg, fuelAtEnd_kg } = loading;
    const by = kitList === undefined ? {} : { kitList };
    const said = { persons, patients, kit, ...by, fuel_kg, fuelAtEnd_kg };
    await this.#core.record(() =>
      this.#core.write(ledger, "loading.said", { ...said, at: msToInstant(this.#core.now_ms()), replaces }),
    );
  };

  readonly recordWeighing = async (
    ledger: string,
    weighing: NewWeighing,
    replaces: readonly string[],
  ): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "craft.weighed", {
        ...weighing,
        at: msToInstant(this.#core.now_ms()),
        replaces,
      }),
    );
  };

  readonly moveKit = async (
    ledger: string,
    kit: string,
    aboard: boolean,
    replaces: readonly string[],
  ): Promise<void> => {
    await this.#core.record(() => {
      const at = msToInstant(this.#core.now_ms());
      return this.#core.write(ledger, "kit.moved", { kit, aboard, words: "", at, replaces });
    });
  };
}
