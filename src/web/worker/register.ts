// The page's side of the service worker: registers it, and tells when a newer version of the app waits.

/** Registers the worker. `onWaiting` gets a function that lets the waiting version take over and loads it. */
export async function registerWorker(onWaiting: (takeOver: () => void) => void): Promise<void> {
  const { serviceWorker } = navigator;
  // Without HTTPS (other than on localhost) a browser has none; the app then works as long as the server answers.
  if (serviceWorker === undefined) return;
  const registration = await serviceWorker.register("/sw.js", { updateViaCache: "none" });
  const offer = (waiting: ServiceWorker): void =>
    onWaiting(() => {
      serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
      waiting.postMessage("takeOver");
    });
  // The first version ever takes no one over: there is no older one that serves this page.
  const isUpdate = (): boolean => serviceWorker.controller !== null;
  if (registration.waiting !== null && isUpdate()) offer(registration.waiting);
  registration.addEventListener("updatefound", () => {
    const { installing } = registration;
    installing?.addEventListener("statechange", () => {
      if (installing.state === "installed" && isUpdate()) offer(installing);
    });
  });
  // Asked again whenever the person comes back to the app: a tablet at a base is never closed.
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") registration.update().catch(() => undefined);
  });
}
