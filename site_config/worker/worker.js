(function () {
  // Serves one release from this phone. The page downloads; this checks what is there, piece by piece, and hands it out.
  // In brackets from the first sign to the last: no beginning of this file is a script.
  "use strict";
  const RELEASE = "@RELEASE@";
  const WORDS = "@WORDS@";
  const SCOPE = registration.scope;
  const STORE = "ohmfolio " + SCOPE;
  const TYPES = { html: "text/html", js: "text/javascript", css: "text/css", svg: "image/svg+xml", png: "image/png",
    jpg: "image/jpeg", jpeg: "image/jpeg", webp: "image/webp", json: "application/json", webmanifest: "application/manifest+json" };
  const SILENT_MS = 20000; // so long a host may take for a piece that is missing here
  const NEVER_KEPT = /^(release\.json|newest\.json|worker(-\w+)?\.js|releases\/.*)$/;

  const lists = new Map(); // release → its list, once read
  const elders = new Map(); // window that still shows an older release → that release
  let broken = false; // a piece is gone that the host does not give: the first page comes from there, and mends the rest
  const through = new Set(); // window whose page came from the host, because the list is gone here

  // What a window says of its copy, it says anew when a piece of it is gone.
  const windows = typeof BroadcastChannel === "function" ? new BroadcastChannel("ohm.changed " + SCOPE) : null;

  const store = () => caches.open(STORE);
  const kept = (name) => new URL(".kept/" + name, SCOPE).href;

  async function listOf(name) {
    if (!lists.has(name)) {
      const found = await (await store()).match(kept("list-" + name));
      const content = found && await found.arrayBuffer();
      // A list is named by its own hash: what is not, is none.
      if (content && (await sumOf(content)).startsWith(name)) lists.set(name, JSON.parse(new TextDecoder().decode(content)));
    }
    return lists.get(name);
  }

  addEventListener("install", (event) => event.waitUntil((async () => {
    const list = await listOf(RELEASE);
    const there = new Set((await (await store()).keys()).map((one) => one.url));
    if (!list || !Object.values(list.files).every((sum) => there.has(kept(sum)))) throw new Error("not whole on this phone yet");
  })()));

  // Before the change and not at it: the first questions of older windows come sooner than the activation.
  async function change() {
    const older = await (await store()).match(kept("serving"));
    const name = older && await older.text();
    const all = name && await listOf(name) ? await clients.matchAll({ type: "window", includeUncontrolled: true }) : [];
    all.forEach((one) => elders.set(one.id, name));
    await skipWaiting();
  }

  addEventListener("message", (event) => {
    if (event.data === "which") event.ports[0].postMessage(RELEASE);
    if (event.data === "switch") event.waitUntil(change());
    if (event.data === "claim") event.waitUntil(clients.claim(elders.delete(event.source.id)));
  });

  addEventListener("activate", (event) => event.waitUntil(store().then((all) => all.put(kept("serving"), new Response(RELEASE)))));

  addEventListener("fetch", (event) => {
    const { request } = event;
    const url = request.url.split(/[?#]/)[0];
    // The page's own downloads say no-store: they want the host's newest, not what is here.
    if (request.method !== "GET" || !url.startsWith(SCOPE) || request.cache === "no-store") return;
    const path = decodeURI(url.slice(SCOPE.length)).replace(/(^|\/)$/, "$1index.html");
    if (!NEVER_KEPT.test(path)) event.respondWith(answer(event, path));
  });

  async function answer({ request, clientId, resultingClientId }, path) {
    const name = (request.mode !== "navigate" && elders.get(clientId)) || RELEASE;
    const list = await listOf(name);
    if (!list && request.mode === "navigate") through.add(resultingClientId);
    if (broken && request.mode === "navigate" && path === "index.html") {
      const first = await fetch(request.url, { cache: "no-cache" }).catch(() => null);
      if (first && first.ok) return through.add(resultingClientId) && first;
    }
    if (through.has(request.mode === "navigate" ? resultingClientId : clientId)) return fetch(request.url, { cache: "no-cache" });
    if (!list) return says(request, WORDS.gone, 503);
    if (path === "assets/release.js") return answered(path, script(list, name));
    const sum = list.files[path];
    if (!sum) return says(request, WORDS["no-page"], 404);
    const found = await (await store()).match(kept(sum));
    const content = found && await found.arrayBuffer();
    // What is kept may have been changed or thrown away since: it is looked at each time before it is shown.
    return content && await sumOf(content) === sum ? answered(path, content) : again(request, path, sum);
  }

  // A piece that is gone or spoilt comes again from the host, but only if it is the same byte for byte.
  async function again(request, path, sum) {
    const stop = new AbortController();
    const late = setTimeout(() => stop.abort(), SILENT_MS);
    try {
      const content = await (await fetch(request.url, { cache: "no-store", signal: stop.signal })).arrayBuffer();
      if (await sumOf(content) !== sum) throw new Error("another release");
      await (await store()).put(kept(sum), new Response(content)).catch(() => {});
      return answered(path, content);
    } catch (lost) {
      broken = true;
      await (await store()).delete(kept(sum));
      if (windows) windows.postMessage("");
      return says(request, WORDS.missing, 503);
    } finally {
      clearTimeout(late);
    }
  }

  async function sumOf(content) {
    const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", content));
    return Array.from(hash, (one) => one.toString(16).padStart(2, "0")).join("");
  }

  const script = (list, name) => "(window.Ohm=window.Ohm||{}).release=" +
    JSON.stringify({ ...list.release, name, files: Object.keys(list.files).length }) + ";\n";
  const answered = (path, body) => new Response(body, { headers: {
    "Content-Type": (TYPES[path.split(".").pop()] || "application/octet-stream") + "; charset=utf-8" } });
  // On a home screen there is no bar with addresses: what cannot be shown leads back by itself.
  const says = ({ mode }, words, status) => mode === "navigate"
    ? new Response(`<!doctype html><meta name="viewport" content="width=device-width"><meta name="color-scheme" content="light dark">
<title>${WORDS["first-page"]}</title><p>${words}</p><p><a href="${SCOPE}index.html">${WORDS["first-page"]}</a></p>`,
    { status, headers: { "Content-Type": "text/html; charset=utf-8" } })
    : new Response(words, { status, headers: { "Content-Type": "text/plain; charset=utf-8" } });
}());
