// The service worker: pages from the network first, then the copies this phone keeps.
//
// It keeps a page only where the server says so (`Orchard-Pocket: keep`), for 7 days.
// `self.TOLD` comes from the server: the version, the files and the pages to have.
"use strict";

const { version, files, pages, static: staticPath, icon } = self.TOLD;
const STATIC = "static-";
const VISITED = "visited";
const ALWAYS = "always"; // the pocket copies, the page of what waits, the offline page
const KEPT_AT = "Orchard-Kept-At";
const KEPT_MS = 7 * 24 * 3600 * 1000;
const FRESH_MS = 30 * 60 * 1000;
const PATIENCE_MS = 6000; // then a copy is better than waiting
const MOST_VISITED = 60;
const MOST_STATIC = 3; // copies of older pages still ask for older files

self.addEventListener("install", (event) => event.waitUntil(prepare()));
const prepare = async () => {
  const cache = await caches.open(STATIC + version);
  await cache.addAll(files);
  await Promise.all(pages.map((path) => fetchInto(ALWAYS, path)));
};

self.addEventListener("activate", (event) => event.waitUntil(begin()));
const begin = async () => {
  const kept = (await caches.keys()).filter((name) => name.startsWith(STATIC));
  await Promise.all(kept.slice(0, -MOST_STATIC).map((name) => caches.delete(name)));
  await self.clients.claim();
};

// A copy says on itself when it was made, so that the page can tell its reader; what
// was only said in passing stays out of it.
const copyOf = async (answer) => {
  const at = new Date().toISOString();
  const text = (await answer.text())
    .replace(/<p[^>]* data-passing>.*?<\/p>/gs, "")
    .replace("<body", `<body data-kept-at="${at}"`);
  const headers = new Headers(answer.headers);
  headers.delete("Content-Encoding");
  headers.delete("Content-Length");
  headers.set(KEPT_AT, at);
  return new Response(text, { headers });
};

const ageOf = (copy) => Date.now() - Date.parse(copy.headers.get(KEPT_AT));
const isToKeep = (answer) =>
  answer.status === 200 && !answer.redirected && answer.headers.get("Orchard-Pocket") === "keep";

const put = async (name, url, answer) => {
  const cache = await caches.open(name);
  await cache.delete(url); // what is put anew stands last
  await cache.put(url, await copyOf(answer));
  const all = await cache.keys();
  const tooMany = name === VISITED ? all.slice(0, -MOST_VISITED) : [];
  await Promise.all(tooMany.map((old) => cache.delete(old)));
};

const fetchInto = async (name, url) => {
  const answer = await fetch(url, { cache: "no-store" });
  if (isToKeep(answer)) {
    await put(name, url, answer);
  }
};

const kept = async (name, url) => {
  const cache = await caches.open(name);
  const copy = await cache.match(url);
  if (copy && ageOf(copy) > KEPT_MS) {
    await cache.delete(url);
    return undefined;
  }
  return copy;
};

const siteOf = (url) => new URL(url).pathname.match(/^\/s\/[^/]+\//)?.[0];
const pathOf = (url) => new URL(url).pathname;

// The first page leads to the site somebody was at last.
const firstPage = async () => {
  for (const name of [ALWAYS, VISITED]) {
    const all = await (await caches.open(name)).keys();
    const last = all.findLast((each) => siteOf(each.url));
    if (last) {
      return Response.redirect(siteOf(last.url));
    }
  }
  return undefined;
};

// The copy of that very page, else the pocket copy of its site, else the offline page.
const instead = async (url) => {
  const site = siteOf(url);
  const path = pathOf(url);
  return (
    (await kept(VISITED, url)) ||
    (await kept(VISITED, path)) ||
    (await kept(ALWAYS, path)) ||
    (site && (await kept(ALWAYS, `${site}pocket/`))) ||
    (path === "/" && (await firstPage())) ||
    (await kept(ALWAYS, pages[0])) ||
    Response.error()
  );
};

// Who may not see a page any more keeps no copy of it, nor of its site.
const forget = async (url) => {
  const visited = await caches.open(VISITED);
  await visited.delete(url);
  if (pathOf(url) === siteOf(url)) {
    const all = await visited.keys();
    await Promise.all(
      all.filter((each) => siteOf(each.url) === siteOf(url)).map((each) => visited.delete(each)),
    );
    await (await caches.open(ALWAYS)).delete(`${siteOf(url)}pocket/`);
  }
};

const note = async (url, answer) => {
  if (isToKeep(answer)) {
    await put(pages.includes(pathOf(url)) ? ALWAYS : VISITED, url, answer);
  } else if ([403, 404, 410].includes(answer.status)) {
    await forget(url);
  }
};

const pageFor = async (event) => {
  const { url } = event.request;
  const asked = fetch(event.request);
  event.waitUntil(asked.then((answer) => note(url, answer.clone())).catch(() => {}));
  const hasCopy = Boolean((await kept(VISITED, url)) || (await kept(ALWAYS, pathOf(url))));
  const late = new Promise((_, reject) => setTimeout(reject, PATIENCE_MS));
  try {
    const answer = await (hasCopy ? Promise.race([asked, late]) : asked);
    // A proxy whose program is down answers, but not for it.
    return hasCopy && answer.status >= 502 ? await instead(url) : answer;
  } catch {
    return instead(url);
  }
};

const fileFor = async (request) => {
  const copy = await caches.match(request, { ignoreVary: true });
  if (copy) {
    return copy;
  }
  const answer = await fetch(request);
  if (answer.ok) {
    const cache = await caches.open(STATIC + version);
    await cache.put(request, answer.clone());
  }
  return answer;
};

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) {
    return;
  }
  if (url.pathname.startsWith(staticPath)) {
    event.respondWith(fileFor(request));
  } else if (request.mode === "navigate") {
    event.respondWith(pageFor(event));
  }
});

// Keeps the pocket copy of the site somebody is at, half an hour at most apart.
const refresh = async ({ pocket, isOther, isStale }) => {
  if (isOther) {
    await Promise.all([caches.delete(VISITED), caches.delete(ALWAYS)]);
  }
  const copy = await kept(ALWAYS, pocket || pages[0]);
  if (copy && !isStale && ageOf(copy) < FRESH_MS) {
    return;
  }
  const paths = pocket ? [pocket, ...pages] : pages;
  await Promise.all(paths.map((path) => fetchInto(ALWAYS, path)));
};

self.addEventListener("message", (event) => {
  if (event.data.what === "use") {
    self.skipWaiting();
  } else if (event.data.what === "keep") {
    // A page that was on its way when the worker came is not under it yet.
    const work = Promise.all([self.clients.claim(), refresh(event.data)]);
    event.waitUntil(work.catch(console.warn)); // the next page asks again
  }
});

self.addEventListener("push", (event) => {
  const { title, body, path, tag } = event.data.json();
  event.waitUntil(
    self.registration.showNotification(title, { body, tag, icon, data: { path } }),
  );
});

const show = async (path) => {
  const target = new URL(path, self.location.origin);
  const address = target.origin === self.location.origin ? target.href : "/";
  const open = await self.clients.matchAll({ type: "window" });
  const here = open.find((each) => each.url === address);
  return here ? here.focus() : self.clients.openWindow(address);
};
self.addEventListener("notificationclick", (event) => {
  event.notification.close();
  event.waitUntil(show(event.notification.data?.path || "/"));
});
