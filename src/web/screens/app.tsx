// The app: one device, one address, one screen at a time.
import { lazy, Suspense, useEffect, useState } from "react";
import { Button } from "../parts/button.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { localeOf } from "../../present/words/language.ts";
import { bringWords, bringWordsOfReasons } from "../../present/words/words.ts";
import type { Device } from "../device/model.ts";
import { currentLanguage, setLanguage as keepLanguage } from "../look/language.ts";
import { currentLight, setLight as keepLight } from "../look/light.ts";
import { Notice } from "../parts/notice.tsx";
import { Screen } from "../parts/screen.tsx";
import { Unbroken } from "../parts/unbroken.tsx";
import { Failed, Loading } from "../parts/whole-screen.tsx";
import { LocaleProvider, useLocale, useWords } from "../parts/words.tsx";
import { AppContextProvider, useSnapshot } from "./app-context.tsx";
import { Enter } from "./enter.tsx";
import { pathOf, routeOf } from "./route.ts";
import type { CraftScreen, Route } from "./route.ts";
import { Setup } from "./setup.tsx";

// Parts of the app that the question who is there can do without. They are asked for as soon as somebody has the device,
// so that none has to be waited for; the service worker holds them for every version that a window still runs.
const parts = {
  machines: () => import("./machines.tsx"),
  standing: () => import("./standing.tsx"),
  walk: () => import("./walk.tsx"),
  findings: () => import("./findings.tsx"),
  levels: () => import("./levels.tsx"),
  fuel: () => import("./fuel.tsx"),
  loading: () => import("./loading.tsx"),
  power: () => import("./power.tsx"),
  ledger: () => import("./ledger.tsx"),
  weather: () => import("./weather.tsx"),
  sites: () => import("./sites.tsx"),
  runsOut: () => import("./runs-out.tsx"),
  flights: () => import("./flights.tsx"),
  crew: () => import("./crew.tsx"),
  office: () => import("./office.tsx"),
  operator: () => import("./operator.tsx"),
  custody: () => import("./custody.tsx"),
  handover: () => import("./handover.tsx"),
  call: () => import("./call.tsx"),
  inFlight: () => import("./in-flight.tsx"),
  reach: () => import("./reach.tsx"),
  charts: () => import("./charts.tsx"),
  falls: () => import("./fall-notice.tsx"),
};

const partOf = (route: Route): (() => Promise<unknown>) =>
  route.screen === "operator"
    ? parts.operator
    : route.screen === "sheets"
      ? parts.charts
      : "craft" in route
        ? parts[route.screen]
        : parts.machines;

const FallNotice = lazy(async () => ({ default: (await parts.falls()).FallNotice }));
const Machines = lazy(async () => ({ default: (await parts.machines()).Machines }));
const Operator = lazy(async () => ({ default: (await parts.operator()).OperatorScreen }));
const Charts = lazy(async () => ({ default: (await parts.charts()).ChartsScreen }));

const ofCraft = {
  standing: lazy(async () => ({ default: (await parts.standing()).StandingScreen })),
  walk: lazy(async () => ({ default: (await parts.walk()).WalkScreen })),
  findings: lazy(async () => ({ default: (await parts.findings()).FindingsScreen })),
  levels: lazy(async () => ({ default: (await parts.levels()).LevelsScreen })),
  fuel: lazy(async () => ({ default: (await parts.fuel()).FuelScreen })),
  loading: lazy(async () => ({ default: (await parts.loading()).LoadingScreen })),
  power: lazy(async () => ({ default: (await parts.power()).PowerScreen })),
  weather: lazy(async () => ({ default: (await parts.weather()).WeatherScreen })),
  sites: lazy(async () => ({ default: (await parts.sites()).SitesScreen })),
  runsOut: lazy(async () => ({ default: (await parts.runsOut()).RunsOutScreen })),
  flights: lazy(async () => ({ default: (await parts.flights()).FlightsScreen })),
  office: lazy(async () => ({ default: (await parts.office()).OfficeScreen })),
  crew: lazy(async () => ({ default: (await parts.crew()).CrewScreen })),
  custody: lazy(async () => ({ default: (await parts.custody()).CustodyScreen })),
  call: lazy(async () => ({ default: (await parts.call()).CallScreen })),
  inFlight: lazy(async () => ({ default: (await parts.inFlight()).InFlightScreen })),
  reach: lazy(async () => ({ default: (await parts.reach()).ReachScreen })),
  handover: lazy(async () => ({ default: (await parts.handover()).HandoverScreen })),
  ledger: lazy(async () => ({ default: (await parts.ledger()).LedgerScreen })),
} as const satisfies Record<CraftScreen, unknown>;

export function App({ device }: { readonly device: Device }) {
  const [route, setRoute] = useState<Route>(() => routeOf(location.pathname));
  const [language, setLanguage] = useState(currentLanguage);
  const [light, setLight] = useState(currentLight);
  const [zone, setZone] = useState(() => device.snapshot().zone);
  useEffect(() => {
    const onBack = () => setRoute(routeOf(location.pathname));
    addEventListener("popstate", onBack);
    return () => removeEventListener("popstate", onBack);
  }, []);
  useEffect(() => device.subscribe(() => setZone(device.snapshot().zone)), [device]);
  const goTo = (to: Route) => {
    history.pushState(null, "", pathOf(to));
    setRoute(to);
    scrollTo(0, 0);
  };
  const context = {
    device,
    route,
    goTo,
    light,
    setLight: (next: typeof light) => {
      keepLight(next);
      setLight(next);
    },
    setLanguage: async (next: typeof language) => {
      await Promise.all([bringWords(next), bringWordsOfReasons(next)]);
      keepLanguage(next);
      setLanguage(next);
    },
  };
  return (
    <LocaleProvider locale={localeOf(language, zone)}>
      <AppContextProvider value={context}>
        <Unbroken>
          <CurrentScreen route={route} />
        </Unbroken>
        <Falls />
        <NotDone />
      </AppContextProvider>
    </LocaleProvider>
  );
}

function CurrentScreen({ route }: { readonly route: Route }) {
  const { phase, failure, me, exchange } = useSnapshot();
  const { app } = useWords();
  const hasWords = useWordsOfReasons(me !== null);
  useEffect(() => {
    // What the address needs is asked for while the record is read; whoever shows it says if it does not come.
    if (me !== null) partOf(route)().catch(() => undefined);
  }, [me, route]);
  if (phase === "failed") {
    return (
      <Screen name="Preen">
        <Failed what={failure ?? app.failed.storage} onRetry={() => location.reload()} />
      </Screen>
    );
  }
  // Half of a record that arrives for the first time would tell of a walk under way that ended long ago.
  const isFirst = me !== null && exchange.last_ms === null && exchange.running;
  if (phase === "loading" || isFirst) return <Waiting />;
  if (me === null || route.screen === "enter") return <Enter />;
  if (!hasWords) return <Waiting />;
  return (
    <Suspense fallback={<Waiting />}>
      <ScreenOf route={route} />
    </Suspense>
  );
}

/** What reasons say, brought once somebody has the device; a change of language brings its own before it happens. */
function useWordsOfReasons(isHeld: boolean): boolean {
  const { language } = useLocale();
  const [brought, setBrought] = useState<typeof language | null>(null);
  useEffect(() => {
    if (!isHeld) return;
    bringWordsOfReasons(language).then(
      () => setBrought(language),
      () => undefined,
    );
  }, [isHeld, language]);
  return brought !== null;
}

function ScreenOf({ route }: { readonly route: Route }) {
  const { craft, exchange } = useSnapshot();
  useEffect(() => {
    // All others once this one has been seen: none of them has to be waited for later.
    const later = setTimeout(() => void Promise.allSettled(Object.values(parts).map((part) => part())), 500);
    return () => clearTimeout(later);
  }, []);
  if (route.screen === "setup") return <Setup />;
  if (route.screen === "sheets") return <Charts sheet={route.sheet} chart={route.chart} />;
  if (route.screen === "operator") return <Operator />;
  if (!("craft" in route)) return <Machines />;
  const view = craft.find(({ ledger }) => ledger === `craft:${route.craft}`);
  const Shown = ofCraft[route.screen];
  if (view !== undefined) return <Shown craft={view} key={view.ledger} />;
  return exchange.running ? <Waiting /> : <Machines />;
}

function Waiting() {
  return (
    <Screen name="Preen">
      <Loading />
    </Screen>
  );
}

/** What fell stands over every screen; it comes with the judges, without whom nothing can fall. */
function Falls() {
  const { me, phase } = useSnapshot();
  if (me === null || phase !== "ready") return null;
  return (
    <Suspense fallback={null}>
      <FallNotice />
    </Suspense>
  );
}

/**
 * An action that failed is never silent. Every action of a screen ends here when it rejects: the device's promise to do
 * it whole or not at all is what the words say.
 */
function NotDone() {
  const { app } = useWords();
  const [why, setWhy] = useState<string | null>(null);
  const [body, setBody] = useState<"notDoneBody" | "notYours">("notDoneBody");
  useEffect(() => {
    const onRejection = ({ reason }: PromiseRejectionEvent) => {
      setWhy(reason instanceof Error ? reason.message : String(reason));
      setBody(reason instanceof Error && reason.name === "NotYours" ? "notYours" : "notDoneBody");
    };
    addEventListener("unhandledrejection", onRejection);
    return () => removeEventListener("unhandledrejection", onRejection);
  }, []);
  return (
    <Sheet title={app.failed.notDone} open={why !== null} onClose={() => setWhy(null)}>
      <Notice title={app.failed[body]} kind="problem">
        <p className="small quiet">{why}</p>
      </Notice>
      <div className="sheet-foot">
        <Button look="filled" onPress={() => setWhy(null)}>
          {app.doing.close}
        </Button>
      </div>
    </Sheet>
  );
}

/** Shown where the device's own store cannot be used: nothing may look saved that is not. */
export function NoStore({ why }: { readonly why: string }) {
  return (
    <LocaleProvider locale={localeOf(currentLanguage(), "UTC")}>
      <Screen name="Preen">
        <StoreNotice why={why} />
      </Screen>
    </LocaleProvider>
  );
}

function StoreNotice({ why }: { readonly why: string }) {
  const { app } = useWords();
  return (
    <Notice title={app.failed.title} kind="problem">
      <p>{app.failed.storage}</p>
      <p className="small quiet">{why}</p>
    </Notice>
  );
}
