// Notices about the places that a call goes to, while it is there: what somebody said of each, until when, and who.
import type { CallAnswer, CallKnown } from "../../core/reach/call.ts";
import { noticesAtStops } from "../../core/reach/site-questions.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { useLocale } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { useSitesWords } from "./use-sites-words.ts";

type CallNoticesProps = { readonly known: CallKnown; readonly answer: CallAnswer };

export function CallNotices({ known, answer }: CallNoticesProps) {
  const { now_ms } = useSnapshot();
  const words = useSitesWords();
  const locale = useLocale();
  const names = useNames(null);
  const told = noticesAtStops(known, answer);
  if (told.length === 0) return null;
  return (
    <ul className="rows" aria-label={words.noticesNow}>
      {told.map(({ stop, notice: { entry, kind, until_ms, words: said, by } }) => (
        <li key={`${entry} ${stop}`} className="call-notice">
          <p>
            <b>{answer.stops[stop + 1]?.name}</b>: {words.noticeKinds[kind]},{" "}
            {until_ms === null ? words.open : words.until(timeSeenFrom(now_ms, until_ms, locale))}
          </p>
          <p className="small quiet">
            {[said, words.by(names.person(by))].filter((part) => part !== "").join("; ")}
          </p>
        </li>
      ))}
    </ul>
  );
}
