// Shifts, flights, and the forms that are tried on the record before they are signed.
import { msToInstant } from "../../core/facts/instant.ts";
import { isRefusal } from "../../ledger/entry-type.ts";
import type { LedgerFold } from "../../ledger/ledger-fold.ts";
import { randomHex } from "./device-core.ts";
import type { DeviceCore } from "./device-core.ts";
import type { NewFlight, NewShift, ProceduresDone, SignRefusal, SignedType } from "./model.ts";

export class DutyActions {
  readonly #core: DeviceCore;

  constructor(core: DeviceCore) {
    this.#core = core;
  }

  readonly declareShift = async (ledger: string, { from_ms, until_ms, people }: NewShift): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "shift.declared", {
        from: msToInstant(from_ms),
        until: msToInstant(until_ms),
        people: people.map(({ person, roles, lastDutyEnd_ms }) => ({
          person,
          roles,
          lastDutyEnd: msToInstant(lastDutyEnd_ms),
        })),
        replaces: this.#core.view(ledger).state.shifts.map(({ entry }) => entry),
      }),
    );
  };

  readonly beginFlight = (
    ledger: string,
    operation: string,
    crew: readonly string[],
  ): Promise<SignRefusal | null> => {
    const flight = `flight-${randomHex(12)}`;
    return this.#signed(ledger, "flight.begun", (at) => ({ flight, offAt: at, operation, crew: [...crew] }));
  };

  readonly logFlight = (ledger: string, flight: NewFlight): Promise<SignRefusal | null> => {
    return this.#signed(ledger, "flight.logged", () => flightBody(flight));
  };

  readonly correctFlight = (
    ledger: string,
    replaced: string,
    instead: NewFlight | null,
    why: string,
  ): Promise<SignRefusal | null> => {
    const body = instead === null ? null : flightBody(instead);
    return this.#signed(ledger, "flight.corrected", (at) => ({
      instead: body,
      why,
      at,
      replaces: [replaced],
    }));
  };

  readonly sign = (ledger: string, type: SignedType, body: object): Promise<SignRefusal | null> => {
    return this.#signed(ledger, type, (at) => ({ at, ...body }));
  };

  /** Tries the entry on the record as it stands, and writes it only where it counts. */
  #signed(ledger: string, type: string, bodyAt: (at: string) => object): Promise<SignRefusal | null> {
    return this.#core.record(async () => {
      const now_ms = this.#core.now_ms();
      const body = bodyAt(msToInstant(now_ms));
      const { person, enrolment } = this.#core.mySession();
      const by = { by: person.id, key: enrolment.key.publicKey, now_ms };
      const { operatorFold } = this.#core.book;
      const refusal =
        ledger === operatorFold?.ledger
          ? refusalOf(operatorFold.fold, ledger, type, body, by)
          : ledger.startsWith("base:")
            ? refusalOf(this.#core.book.baseFold(ledger), ledger, type, body, by)
            : refusalOf(this.#core.book.fold(ledger), ledger, type, body, by);
      if (refusal === null) await this.#core.write(ledger, type, body);
      return refusal;
    });
  }

  readonly confirmDeferral = async (ledger: string, finding: string, done: ProceduresDone): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "deferral.confirmed", {
        finding,
        ...done,
        at: msToInstant(this.#core.now_ms()),
      }),
    );
  };
}

/** What a form says of a flight as the record holds it. */
function flightBody({ flight, off_ms, on_ms, ...flown }: NewFlight): object {
  return {
    flight: flight ?? `flight-${randomHex(12)}`,
    offAt: msToInstant(off_ms),
    onAt: msToInstant(on_ms),
    ...flown,
  };
}

type Writer = { readonly by: string; readonly key: string; readonly now_ms: number };

/** Why an entry would be set aside if it were written now; null where it would count. */
function refusalOf<State extends object>(
  fold: LedgerFold<State>,
  ledger: string,
  type: string,
  body: object,
  { by, key, now_ms }: Writer,
): SignRefusal | null {
  const kind = fold.definition.types.find((one) => one.type === type);
  if (kind === undefined) return { code: "unknownType", path: "", found: type, wanted: "a known type" };
  const meta = {
    id: "0".repeat(64),
    ledger,
    type,
    key,
    by,
    at: msToInstant(now_ms),
    at_ms: now_ms,
    seq: 0,
    basis: {},
  };
  const folded = kind.fold(fold.folded.state, body, meta);
  return isRefusal(folded) ? folded.refused : null;
}
