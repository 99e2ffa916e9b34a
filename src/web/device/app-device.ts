// The device: opens its own store, reads what is in it, listens, and offers every action of the screens.
import { Keys } from "./keys.ts";
import { IndexedDbStore } from "../../store/indexeddb.ts";
import { CustodyActions } from "./custody-actions.ts";
import { DeviceCore, database, tick_ms } from "./device-core.ts";
import type { AppDeviceOptions } from "./device-core.ts";
import { DutyActions } from "./duty-actions.ts";
import { Exchanging } from "./exchanging.ts";
import { FindingActions } from "./finding-actions.ts";
import { LevelActions } from "./level-actions.ts";
import { LoadActions } from "./load-actions.ts";
import type { Device } from "./model.ts";
import { PeopleActions } from "./people-actions.ts";
import { PhotoActions } from "./photo-actions.ts";
import { RecordActions } from "./record-actions.ts";
import type { Hello } from "./server-calls.ts";
import { SkyActions } from "./sky-actions.ts";
import { StopDrafts } from "./stop-drafts.ts";
import { WalkActions } from "./walk-actions.ts";

const exchangeEvery_ms = 60_000;
/** How long after the start the snapshots are looked at: the first screen stands and the first exchange is done by then. */
const firstTended_ms = 20_000;

export type AppDevice = Device & {
  /** A newer version of the app waits to be taken over. */
  announceUpdate(): void;
};

/** Opens the device's own store and reads everything in it. Rejects (StoreError) when it cannot be used. */
export async function openDevice(options: AppDeviceOptions): Promise<AppDevice> {
  const core = new DeviceCore(await IndexedDbStore.open(database), await Keys.open(), options);
  const photos = new PhotoActions(core);
  const drafts = new StopDrafts(core);
  const exchanging = new Exchanging(core, drafts, photos);
  const people = new PeopleActions(core, drafts, exchanging);
  core.afterWriting(() => void exchanging.offer());
  await readAll(core, exchanging, people);
  listen(core, drafts, exchanging);
  void exchanging.greet();
  // Every action is a property of its group and bound to it: nothing that is needed is lost with the prototype.
  /* oxlint-disable typescript/no-misused-spread */
  return {
    snapshot: () => core.shown,
    subscribe: (listener) => core.subscribe(listener),
    announceUpdate: () => {
      core.updateWaits = true;
      core.show();
    },
    takeUpdate: () => options.takeUpdate(),
    acknowledgeFalls: () => {
      core.watch.acknowledge();
      core.show(false);
    },
    exchangeNow: () => exchanging.greet(),
    ...people,
    ...photos,
    ...new RecordActions(core, photos),
    ...new CustodyActions(core),
    ...new SkyActions(core),
    ...new WalkActions(core, drafts),
    ...new LevelActions(core, drafts),
    ...new DutyActions(core),
    ...new FindingActions(core),
    ...new LoadActions(core),
  };
  /* oxlint-enable typescript/no-misused-spread */
}

async function readAll(core: DeviceCore, exchanging: Exchanging, people: PeopleActions): Promise<void> {
  const text = await core.store.readNote("hello");
  if (text !== null) await exchanging.hear(JSON.parse(text) as Hello);
  await core.readKeys();
  await core.openRecord();
  for (const hash of core.book.sheetsWanted()) await exchanging.takeSheetFromNote(hash);
  await core.readDrafts();
  await people.resumeSession();
  await exchanging.start();
  await core.noteUnsent();
  core.show();
  if (core.session !== null) void core.bringJudges().then(() => core.show());
}

function listen(core: DeviceCore, drafts: StopDrafts, exchanging: Exchanging): void {
  core.windows.addEventListener("message", () => {
    void core.inTurn(async () => {
      await core.catchUp();
      await core.readDrafts();
      core.show();
    });
  });
  setInterval(() => {
    drafts.leaveBehind();
    if (core.session === null || core.judging !== null) core.show();
    else void core.bringJudges().then(() => core.show());
  }, tick_ms);
  setInterval(() => void exchanging.offer(), exchangeEvery_ms);
  setTimeout(() => void exchanging.tendSnapshots(), firstTended_ms);
  addEventListener("online", () => void exchanging.greet());
  // A try that must fail says so at once, and not only at the next usual one.
  addEventListener("offline", () => void core.exchanger?.wake(true));
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void exchanging.greet();
  });
}
