// Temporal as the browser has it; the library only where it has none. The build puts this in the library's place
// (vite.config.ts), so that most browsers never load it. Same rules either way: the library is held to the same standard,
// and its own entry would hand out the browser's, too, but only after it had been loaded.
const { Temporal } = "Temporal" in globalThis ? globalThis : await import("temporal-polyfill/implementation");

export { Temporal };
