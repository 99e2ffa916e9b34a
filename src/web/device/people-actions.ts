// Who holds the device: enrolled once with the server, then by PIN.
import { makeKey } from "../../crypto/web.ts";
import { CallError } from "../../sync/exchanger.ts";
import type { DeviceCore } from "./device-core.ts";
import type { Exchanging } from "./exchanging.ts";
import { newSalt, pinHash } from "./keys.ts";
import type { Enrolment } from "./keys.ts";
import type { Person, PinAnswer } from "./model.ts";
import { ServerRefusal, enrol } from "./server-calls.ts";
import type { StopDrafts } from "./stop-drafts.ts";

export class PeopleActions {
  readonly #core: DeviceCore;
  readonly #drafts: StopDrafts;
  readonly #exchanging: Exchanging;

  constructor(core: DeviceCore, drafts: StopDrafts, exchanging: Exchanging) {
    this.#core = core;
    this.#drafts = drafts;
    this.#exchanging = exchanging;
  }

  readonly enter = async (id: string, pin: string): Promise<PinAnswer> => {
    const person = this.#core.hello?.people.find((candidate) => candidate.id === id);
    if (person === undefined) return { ok: false, why: "failed", wait_ms: 0 };
    const held = await this.#core.keys.of(id);
    if (held !== null) {
      const { right, wait_ms } = await this.#core.keys.check(held, pin, this.#core.options.clock_ms());
      if (!right) return { ok: false, why: wait_ms > 0 ? "locked" : "wrong", wait_ms };
      await this.#begin(person, held);
      return { ok: true };
    }
    return this.#enrol(person, pin);
  };

  async #enrol(person: Person, pin: string): Promise<PinAnswer> {
    const key = await makeKey();
    const pinSalt = newSalt();
    try {
      const body = {
        person: person.id,
        pin,
        publicKey: key.publicKey,
        deviceName: navigator.userAgent.slice(0, 80),
      };
      const { token } = await enrol(body);
      const hash = await pinHash(pin, pinSalt);
      const enrolment = {
        person: person.id,
        key,
        token,
        pinSalt,
        pinHash: hash,
        wrong: 0,
        lockedUntil_ms: 0,
      };
      await this.#core.keys.put(enrolment);
      await this.#begin(person, enrolment);
      // Not waited for: who has the device may go on while the record arrives.
      void this.#exchanging.greet();
      return { ok: true };
    } catch (error) {
      if (error instanceof CallError) return { ok: false, why: "noConnection", wait_ms: 0 };
      if (!(error instanceof ServerRefusal)) throw error;
      const { code, retryAfter_s = 0 } = error.problem;
      if (code === "pinWrong") return { ok: false, why: "wrong", wait_ms: 0 };
      return { ok: false, why: code === "pinLocked" ? "locked" : "failed", wait_ms: retryAfter_s * 1_000 };
    }
  }

  async #begin(person: Person, enrolment: Enrolment): Promise<void> {
    this.#core.session = { person, enrolment };
    this.#core.watch.forget();
    await Promise.all([this.#core.readKeys(), this.#core.bringJudges()]);
    await this.#core.store.writeNote("me", person.id);
    this.#core.show();
    void this.#core.exchanger?.wake(true);
  }

  /** The person who held the device before a reload still holds it; a signature asks for the PIN all the same. */
  async resumeSession(): Promise<void> {
    const id = await this.#core.store.readNote("me");
    const person = this.#core.hello?.people.find((candidate) => candidate.id === id);
    const enrolment = id === null ? null : await this.#core.keys.of(id);
    if (person !== undefined && enrolment !== null) this.#core.session = { person, enrolment };
  }

  /** Who gives the device away leaves the stop: what was marked there must be on the next person's screen. */
  readonly leave = async (): Promise<void> => {
    if (this.#core.session === null) return;
    await this.#core.record(async () => {
      for (const ledger of this.#core.book.ledgers) await this.#drafts.sealDraft(ledger, "left");
      await this.#core.store.writeNote("me", null);
      this.#core.session = null;
      this.#core.watch.forget();
    });
  };

  readonly checkPin = async (pin: string): Promise<PinAnswer> => {
    const { person } = this.#core.mySession();
    const held = await this.#core.keys.of(person.id);
    if (held === null) return { ok: false, why: "failed", wait_ms: 0 };
    const { right, wait_ms } = await this.#core.keys.check(held, pin, this.#core.options.clock_ms());
    return right ? { ok: true } : { ok: false, why: wait_ms > 0 ? "locked" : "wrong", wait_ms };
  };
}
