// The frame of a screen with its name, how fresh the record is, and the way to the other screens.
import type { ReactNode } from "react";
import type { CraftView } from "../device/model.ts";
import { ExchangeLine } from "../parts/exchange-line.tsx";
import { Navigation } from "../parts/navigation.tsx";
import type { Place } from "../parts/navigation.tsx";
import { Screen } from "../parts/screen.tsx";
import { useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { craftScreenGroups, pathOf, routeOf } from "./route.ts";
import type { Route } from "./route.ts";

export function Exchange({ craft }: { readonly craft: CraftView | null }) {
  const { exchange, now_ms } = useSnapshot();
  return (
    <ExchangeLine
      exchanged_ms={exchange.last_ms}
      now_ms={now_ms}
      unsent={exchange.unsent}
      aside={craft?.aside ?? 0}
      failed={exchange.failed !== null}
    />
  );
}

/** The places from here: those of the craft at hand, and the machines. */
export function Places({ craft }: { readonly craft: CraftView | null }) {
  const { app } = useWords();
  const { route, goTo } = useApp();
  const place = (to: Route): Place => ({
    id: to.screen,
    name: app.screens[to.screen as "machines"],
    href: pathOf(to),
  });
  const name = craft?.ledger.replace("craft:", "");
  const ofCraft =
    name === undefined
      ? []
      : craftScreenGroups.map((group) => group.map((screen) => place({ screen, craft: name })));
  const groups = [
    [place({ screen: "machines" })],
    ...ofCraft,
    [
      place({ screen: "sheets", sheet: null, chart: null }),
      place({ screen: "operator" }),
      place({ screen: "setup" }),
    ],
  ];
  return <Navigation groups={groups} here={route.screen} onGo={({ href }) => goTo(routeOf(href))} />;
}

type FrameProps = {
  readonly craft: CraftView | null;
  readonly name: string;
  readonly children: ReactNode;
  readonly foot?: ReactNode;
  readonly nameAs?: "h1" | "p";
};

export function Frame({ craft, name, children, foot, nameAs = "p" }: FrameProps) {
  return (
    <Screen
      name={name}
      nameAs={nameAs}
      aside={<Exchange craft={craft} />}
      navigation={<Places craft={craft} />}
      {...(foot === undefined ? {} : { foot, place: "craft" as const })}
    >
      {children}
    </Screen>
  );
}
