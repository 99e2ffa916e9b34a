// Runs before the first paint: sets the light and the language that this device was left in, so that a dark cockpit
// never sees a white page. A plain file of its own, since the page allows no script inside itself.
{
  const root = document.documentElement;
  let light = "";
  let language = "";
  try {
    light = localStorage.getItem("preen.light") ?? "";
    language = localStorage.getItem("preen.language") ?? "";
  } catch {
    // A browser that keeps nothing still gets the light that its own setting asks for.
  }
  if (!/^(day|dark|red|goggles)$/.test(light)) {
    light = matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "day";
  }
  if (!/^(en|de)$/.test(language)) language = /^de\b/i.test(navigator.language) ? "de" : "en";
  root.dataset.light = light;
  // The system's own frame round an installed app; the same as --paper in lights.css, which is not there yet.
  const papers = new Map([
    ["day", "#f4f1e9"],
    ["dark", "#10191b"],
  ]);
  document.querySelector('meta[name="theme-color"]')?.setAttribute("content", papers.get(light) ?? "#000000");
  root.lang = language;
}
