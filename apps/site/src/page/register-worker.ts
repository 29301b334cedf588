/** Keeps the page itself on the device, so that it opens without a network. */
export function registerWorker(): void {
  if (!("serviceWorker" in navigator)) return;
  addEventListener("load", () => {
    navigator.serviceWorker.register("service-worker.js").catch(() => undefined);
  });
}
