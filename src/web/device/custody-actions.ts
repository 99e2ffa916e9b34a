// Who has the craft and where it stands: taken over, given to maintenance, released, handed to the next crew.
import { msToInstant } from "../../core/facts/instant.ts";
import { closureBody } from "../../ledger/craft/recorder.ts";
import { randomHex } from "./device-core.ts";
import type { DeviceCore } from "./device-core.ts";
import type { NewHandover, NewPage, NewRelease } from "./model.ts";

export class CustodyActions {
  readonly #core: DeviceCore;

  constructor(core: DeviceCore) {
    this.#core = core;
  }

  readonly takeOver = async (ledger: string, people: readonly string[]): Promise<void> => {
    await this.#core.record(() => {
      const replaces = this.#core.view(ledger).state.custody.map(({ entry }) => entry);
      const at = msToInstant(this.#core.now_ms());
      return this.#core.write(ledger, "custody.taken", {
        custody: "crew",
        people,
        words: "",
        expectedEnd: null,
        at,
        replaces,
      });
    });
  };

  readonly handOver = async (
    ledger: string,
    { custody, words, expectedEnd_ms }: NewHandover,
  ): Promise<void> => {
    await this.#core.record(() => {
      const replaces = this.#core.view(ledger).state.custody.map(({ entry }) => entry);
      const expectedEnd = expectedEnd_ms === null ? null : msToInstant(expectedEnd_ms);
      const said = {
        custody,
        people: [],
        words,
        expectedEnd,
        at: msToInstant(this.#core.now_ms()),
        replaces,
      };
      return this.#core.write(ledger, "custody.taken", said);
    });
  };

  readonly givePage = async (ledger: string, { since_ms, shiftEnds_ms, ...page }: NewPage): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "handover.given", {
        handover: `handover-${randomHex(12)}`,
        since: since_ms === null ? null : msToInstant(since_ms),
        shiftEnds: msToInstant(shiftEnds_ms),
        ...page,
        at: msToInstant(this.#core.now_ms()),
      }),
    );
  };

  readonly takePage = async (ledger: string, given: string, words: string): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "handover.taken", { given, words, at: msToInstant(this.#core.now_ms()) }),
    );
  };

  readonly releaseWork = async (ledger: string, { opened, ...release }: NewRelease): Promise<void> => {
    await this.#core.record(() => {
      const { state } = this.#core.view(ledger);
      const closures = opened.map((closure) => closureBody(state, closure, "open"));
      return this.#core.write(ledger, "release.signed", {
        ...release,
        closures,
        at: msToInstant(this.#core.now_ms()),
      });
    });
  };

  readonly inspectWork = async (
    ledger: string,
    release: string,
    licence: string,
    words: string,
  ): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "inspection.signed", {
        release,
        licence,
        words,
        at: msToInstant(this.#core.now_ms()),
      }),
    );
  };

  readonly assignBase = async (ledger: string, base: string): Promise<void> => {
    await this.#core.record(() => {
      const replaces = this.#core.view(ledger).state.based.map(({ entry }) => entry);
      return this.#core.write(ledger, "base.assigned", {
        base,
        at: msToInstant(this.#core.now_ms()),
        replaces,
      });
    });
  };
}
