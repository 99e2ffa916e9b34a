import { expect, test } from "vitest";
import { craftScreens, pathOf, routeOf } from "./route.ts";
import type { Route } from "./route.ts";

test("every place has an address of its own, and the address leads back to it", () => {
  const routes: Route[] = [
    { screen: "machines" },
    { screen: "enter" },
    { screen: "setup" },
    ...craftScreens.map((screen) => ({ screen, craft: "tinde" })),
    { screen: "walk", craft: "a/b ø" },
    { screen: "sheets", sheet: null, chart: null },
    { screen: "sheets", sheet: "quill@1", chart: null },
    { screen: "sheets", sheet: "quill@2.1~b", chart: "fireBottleLeft.low" },
  ];
  for (const route of routes) {
    expect(routeOf(pathOf(route))).toEqual(route);
    // A dot would ask the server for a file.
    expect(pathOf(route)).not.toContain(".");
  }
});

test("an address that means nothing leads to the machines, a craft without a screen to its standing", () => {
  expect(routeOf("/nothing/here")).toEqual({ screen: "machines" });
  expect(routeOf("/craft")).toEqual({ screen: "machines" });
  expect(routeOf("/craft/tinde/elsewhere")).toEqual({ screen: "standing", craft: "tinde" });
});
