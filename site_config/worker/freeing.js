(function () {
  // Lets a phone go: forgets everything kept here, takes the worker away, and every window reads from the host again.
  // In brackets from the first sign to the last: no beginning of this file is a script.
  "use strict";
  /** So long a window may take to keep what is typed in it. */
  const KEEPING_MS = 300;
  addEventListener("install", () => skipWaiting());
  addEventListener("activate", (event) => event.waitUntil((async () => {
    await caches.delete("ohmfolio " + registration.scope);
    const windows = await clients.matchAll({ type: "window" });
    windows.forEach((one) => one.postMessage("leave"));
    await new Promise((done) => { setTimeout(done, KEEPING_MS); });
    await registration.unregister();
    await Promise.all(windows.map((one) => one.navigate(one.url).catch(() => {})));
  })()));
}());
