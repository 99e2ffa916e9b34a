// When this device last exchanged with the server and what it still holds back: `last exchanged 06:52, 2 not sent`.
// Never "online": that a network is there says nothing about the record. That the last try failed is said first.
import { timeSeenFrom } from "../../present/words/formats.ts";
import { useLocale, useWords } from "./words.tsx";

type ExchangeLineProps = {
  /** Null: never. */
  readonly exchanged_ms: number | null;
  readonly now_ms: number;
  readonly unsent: number;
  readonly aside: number;
  /** The last try to exchange failed. */
  readonly failed?: boolean;
};

export function ExchangeLine({ exchanged_ms, now_ms, unsent, aside, failed = false }: ExchangeLineProps) {
  const { exchange } = useWords().app;
  const locale = useLocale();
  const last =
    exchanged_ms === null ? exchange.never : exchange.last(timeSeenFrom(now_ms, exchanged_ms, locale));
  return (
    <p className="exchange">
      {failed && (
        <>
          <b>{exchange.noConnection}</b>,{" "}
        </>
      )}
      {exchanged_ms === null ? <b>{last}</b> : last},{" "}
      {unsent > 0 ? <b>{failed ? exchange.keptHere(unsent) : exchange.unsent(unsent)}</b> : exchange.allSent}
      {aside > 0 && (
        <>
          , <b>{exchange.aside(aside)}</b>
        </>
      )}
    </p>
  );
}
