// Findings and events: raised, judged, measured, worked on, closed.
import type { FindingFacts, ForeignReference, PhotoRef } from "../../core/facts/craft.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import type { JudgingRole } from "../../core/finding/judgement.ts";
import { randomHex } from "./device-core.ts";
import type { DeviceCore } from "./device-core.ts";
import { hoursNow_h } from "./level-actions.ts";
import type { Device, NewFinding, NewMeasure } from "./model.ts";

export class FindingActions {
  readonly #core: DeviceCore;

  constructor(core: DeviceCore) {
    this.#core = core;
  }

  readonly raiseFinding = (
    ledger: string,
    { seenOn = null, writtenThen = false, ...found }: NewFinding,
  ): Promise<string> => {
    return this.#core.record(async () => {
      const finding = `finding-${randomHex(12)}`;
      const at = msToInstant(this.#core.now_ms());
      const seen = seenOn === null ? null : { at: msToInstant(seenOn.at_ms), typed: seenOn.typed };
      await this.#core.write(ledger, "finding.raised", { finding, ...found, seenOn: seen, at });
      if (seen !== null && writtenThen)
        await this.#core.write(ledger, "deferral.reEntered", {
          finding,
          firstRecorded: seen.at,
          words: seen.typed,
          at,
        });
      return finding;
    });
  };

  #findingOf(ledger: string, finding: string): FindingFacts | undefined {
    return own(this.#core.view(ledger).state.findings, finding);
  }

  readonly judgeFinding = async (
    ledger: string,
    finding: string,
    judgement: Parameters<Device["judgeFinding"]>[2],
  ): Promise<void> => {
    const { judgements = [], reopened = [] } = this.#findingOf(ledger, finding) ?? {};
    await this.#writeOf(ledger, "finding.judged", finding, {
      ...judgement,
      seen: reopened.map(({ entry }) => entry),
      replaces: judgements.map(({ entry }) => entry),
    });
  };

  /** An entry about a finding, with the time of now. */
  async #writeOf(ledger: string, type: string, finding: string, body: object): Promise<void> {
    await this.#core.record(() =>
      this.#core.write(ledger, type, { finding, ...body, at: msToInstant(this.#core.now_ms()) }),
    );
  }

  readonly seenAgain = (
    ledger: string,
    finding: string,
    words: string,
    photos: readonly PhotoRef[],
  ): Promise<void> => {
    return this.#writeOf(ledger, "finding.seenAgain", finding, { words, photos });
  };

  readonly measureFinding = (ledger: string, finding: string, measured: NewMeasure): Promise<void> => {
    return this.#writeOf(ledger, "finding.measured", finding, {
      ...measured,
      hours_h: hoursNow_h(this.#core, ledger),
    });
  };

  readonly referFinding = (
    ledger: string,
    finding: string,
    kind: ForeignReference["kind"],
    number: string,
  ): Promise<void> => {
    return this.#writeOf(ledger, "finding.referenced", finding, { kind, number });
  };

  readonly stepFinding = (
    ledger: string,
    finding: string,
    step: "plan" | "fix" | "release",
    words: string,
    licence: string | null,
  ): Promise<void> => {
    const type = { plan: "finding.planned", fix: "finding.fixed", release: "finding.released" }[step];
    return this.#writeOf(ledger, type, finding, { words, licence });
  };

  readonly closeFinding = (
    ledger: string,
    finding: string,
    role: JudgingRole,
    words: string,
  ): Promise<void> => {
    const reopened = this.#findingOf(ledger, finding)?.reopened ?? [];
    const replaces = reopened.map(({ entry }) => entry);
    return this.#writeOf(ledger, "finding.closed", finding, { role, words, replaces });
  };

  readonly reopenFinding = (ledger: string, finding: string, words: string): Promise<void> => {
    return this.#writeOf(ledger, "finding.reopened", finding, { words });
  };

  readonly noteEvent = async (ledger: string, event: string, words: string): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "event.noted", { event, words, at: msToInstant(this.#core.now_ms()) }),
    );
  };

  readonly clearEvent = async (
    ledger: string,
    noted: string,
    role: JudgingRole,
    words: string,
  ): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "event.cleared", { noted, role, words, at: msToInstant(this.#core.now_ms()) }),
    );
  };
}
