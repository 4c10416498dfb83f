(function () {
  // Lets a phone go: forgets everything kept here, takes the worker away, and every window reads from the host again.
  // In brackets from the first sign to the last: no beginning of this file is a script.
  "use strict";
  addEventListener("install", () => skipWaiting());
  addEventListener("activate", (event) => event.waitUntil((async () => {
    await caches.delete("ohmfolio " + registration.scope);
    const windows = await clients.matchAll({ type: "window" });
    await registration.unregister();
    await Promise.all(windows.map((one) => one.navigate(one.url).catch(() => {})));
  })()));
}());
