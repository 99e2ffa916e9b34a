// Which entries of a ledger count, judged from the whole of it and from whom to believe.
//
// An entry that does not count stands aside with a code, and whoever computes a standing makes *not known* of it; it is
// kept and travels on. A person with the role may deal with it: decide a fork, or settle what stands aside. What only
// this reader does not understand (an unknown critical type, a newer version) cannot be settled, since other readers
// count it. Everything here is a function of entries and trust, so that all devices judge alike.
//
// System entries act in layers, so that none decides about itself: receipts first, then decisions, settlings and
// erasures by entries that are themselves in order. The root's entries cannot be refused by the server, and entries that
// carry the trust (certificates, revocations) obey the root alone: nobody may undo what makes or unmakes others.
import { actsIn, keyFault } from "./acceptance.ts";
import type { AsideCode, Receipt, Trust } from "./acceptance.ts";
import type { Hash } from "./entry.ts";
import type { EntryType } from "./entry-type.ts";
import type { Opened } from "./open.ts";
import type { Past } from "./past.ts";
import { isSystemType, receiptsIn, systemFault } from "./system-entries.ts";
import type { AsideSettledBody, EraseBody, ErasePhotoBody, ForkDecidedBody } from "./system-entries.ts";

/** What keeps an entry from being folded. `noted`: shown, and no doubt follows from it. */
export type Outcome = AsideCode | "noted" | null;

export type Typed<State extends object> = ReadonlyMap<string, ReadonlyMap<number, EntryType<State>>>;

/** What a judgement needs to know of the ledger's kinds. */
export type Kinds<State extends object> = {
  readonly typed: Typed<State>;
  /** Types that carry the trust. */
  readonly trustTypes: ReadonlySet<string>;
};

export function byType<State extends object>(types: readonly EntryType<State>[]): Typed<State> {
  const map = new Map<string, Map<number, EntryType<State>>>();
  for (const kind of types) {
    const versions = map.get(kind.type) ?? new Map<number, EntryType<State>>();
    map.set(kind.type, versions.set(kind.tv, kind));
  }
  return map;
}

export type Judgement = {
  readonly receipts: ReadonlyMap<Hash, Receipt>;
  /** Entries whose body was erased by right. */
  readonly erased: ReadonlySet<Hash>;
  /** Hashes of photos that were erased by right, whoever names them. */
  readonly erasedPhotos: ReadonlySet<Hash>;
  /** What keeps the entry out before its body is looked at; null admits it. */
  readonly admit: (opened: Opened) => Outcome;
  /** The outcome once it is asked whether somebody has settled it. */
  readonly settle: (opened: Opened, outcome: Outcome) => Outcome;
  /** Ids that somebody decided, settled or erased, whether or not they are held. */
  readonly named: () => ReadonlySet<Hash>;
  /** Whether anybody decided, settled or erased the entry of this id, whether or not it is held yet. */
  readonly isNamed: (id: Hash) => boolean;
};

const unsettleable: ReadonlySet<Outcome> = new Set<Outcome>(["unknownType", "newerVersion"]);

/** Where an entry stands in its key's chain. Two entries in one place are a fork. */
export function placeOf({ envelope }: Pick<Opened, "envelope">): string {
  return `${envelope.key} ${envelope.seq}`;
}

export function judgeLedger<State extends object>(
  kinds: Kinds<State>,
  trust: Trust,
  ordered: readonly Opened[],
  waiting: readonly Opened[],
  past: Pick<Past<object>, "chains"> | null = null,
): Judgement {
  const byId = new Map(ordered.map((opened) => [opened.id, opened]));
  const forked = forkedIds(ordered, waiting);
  const receipts = receiptsIn(trust, ordered);
  const pastEnd = (key: string, id: Hash): { readonly key: string; readonly seq: number } | undefined => {
    const end = past?.chains.get(key);
    return end?.id === id ? { key, seq: end.seq } : undefined;
  };
  const fault = (opened: Opened): AsideCode | null => {
    const { key, prev } = opened.envelope;
    const receipt = receipts.get(opened.id);
    if (receipt?.verdict === "refused" && key !== trust.root) return "refused";
    if (prev !== null && !follows(opened, byId.get(prev)?.envelope ?? pastEnd(key, prev)))
      return "chainBroken";
    return keyFault(trust, opened, receipt) ?? roleFault(kinds.typed, trust, opened);
  };
  const acting = ordered.filter(
    (opened) => isAction(opened) && !forked.has(opened.id) && fault(opened) === null,
  );
  const all = actionsOf(acting);
  const authority = actionsOf(acting.filter(({ envelope }) => envelope.key === trust.root));
  const actionsOn = ({ envelope }: Opened): Actions =>
    kinds.trustTypes.has(envelope.type) ? authority : all;
  const isErased = (opened: Opened): boolean =>
    actionsOn(opened).erased.has(opened.id) && !isSystemType(opened.envelope.type);
  const decidedPlaces = (actions: Actions): ReadonlySet<string> =>
    new Set([...actions.decided].flatMap((id) => (byId.has(id) ? [placeOf(byId.get(id)!)] : [])));
  const places = new Map([all, authority].map((actions) => [actions, decidedPlaces(actions)]));
  return {
    receipts,
    named: () => new Set([...all.decided, ...all.settled, ...all.erased]),
    isNamed: (id) => all.decided.has(id) || all.settled.has(id) || all.erased.has(id),
    erased: new Set(ordered.filter(isErased).map(({ id }) => id)),
    erasedPhotos: all.photos,
    admit(opened) {
      const { id } = opened;
      const actions = actionsOn(opened);
      if (forked.has(id) && !actions.decided.has(id))
        return places.get(actions)!.has(placeOf(opened)) ? "noted" : "fork";
      const code = fault(opened);
      if (code !== null) return code;
      if (!isErased(opened)) return null;
      // What no standing rests on is shown as erased, and no doubt follows from it.
      return isCritical(kinds.typed, opened) ? "erased" : "noted";
    },
    settle: (opened, outcome) =>
      outcome !== null && !unsettleable.has(outcome) && actionsOn(opened).settled.has(opened.id)
        ? "noted"
        : outcome,
  };
}

/** As its type says, where that is known here; else as its writer said. */
function isCritical<State extends object>(typed: Typed<State>, { envelope }: Opened): boolean {
  return typed.get(envelope.type)?.get(envelope.tv)?.critical ?? envelope.critical;
}

function follows(
  { envelope }: Opened,
  before: { readonly key: string; readonly seq: number } | undefined,
): boolean {
  return before?.key === envelope.key && before.seq === envelope.seq - 1;
}

function roleFault<State extends object>(
  typed: Typed<State>,
  trust: Trust,
  opened: Opened,
): AsideCode | null {
  const { type, tv } = opened.envelope;
  if (isSystemType(type)) return systemFault(trust, opened);
  const kind = typed.get(type)?.get(tv);
  if (kind === undefined) return null;
  const claimed = opened.erased ? null : (kind.claims?.(opened.body) ?? null);
  const acts = actsIn(trust, opened, kind.roles) && (claimed === null || actsIn(trust, opened, [claimed]));
  return acts ? null : "roleMissing";
}

/** Ids that share their place with another entry of the ledger: one key wrote two different things there. */
function forkedIds(...lists: readonly (readonly Opened[])[]): ReadonlySet<Hash> {
  const first = new Map<string, Hash>();
  const forked = new Set<Hash>();
  for (const opened of lists.flat()) {
    const place = placeOf(opened);
    const other = first.get(place);
    if (other === undefined) first.set(place, opened.id);
    else forked.add(other).add(opened.id);
  }
  return forked;
}

type Actions = {
  readonly decided: ReadonlySet<Hash>;
  readonly settled: ReadonlySet<Hash>;
  readonly erased: ReadonlySet<Hash>;
  readonly photos: ReadonlySet<Hash>;
};

function isAction({ envelope: { type } }: Opened): boolean {
  return type !== "receipt" && isSystemType(type);
}

/** What system entries that are in order do to others. */
function actionsOf(acting: readonly Opened[]): Actions {
  const [decided, settled, erased] = [new Set<Hash>(), new Set<Hash>(), new Set<Hash>()];
  const photos = new Set<Hash>();
  for (const { envelope, body } of acting) {
    if (envelope.type === "fork.decided") decided.add((body as ForkDecidedBody).counts);
    else if (envelope.type === "erase") erased.add((body as EraseBody).entry);
    else if (envelope.type === "photo.erased") photos.add((body as ErasePhotoBody).photo);
    else for (const id of (body as AsideSettledBody).entries) settled.add(id);
  }
  return { decided, settled, erased, photos };
}
