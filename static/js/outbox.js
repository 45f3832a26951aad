// The outbox: what was done on this phone and has not reached the server yet.
//
// Each thing has an id made here, which the server remembers: sent twice, it counts once.
// It leaves the outbox only when the server answers 2xx with that id.
"use strict";

const outbox = (() => {
  const NAME = "orchard-outbox";
  const STORE = "things";
  const DOOR_MS = 15_000;
  const SENDING_MS = 120_000; // a photo over a bad line
  const TRY_AGAIN_MS = 60_000;
  const heard = new EventTarget();
  let opened;
  let queued;

  // Ids, locks and storage that last are there for secure addresses alone.
  const works = Boolean(
    window.isSecureContext && window.indexedDB && navigator.locks && crypto.randomUUID,
  );
  const others = works ? new BroadcastChannel(NAME) : null;

  const database = () => {
    opened ??= new Promise((resolve, reject) => {
      const request = indexedDB.open(NAME, 1);
      request.onupgradeneeded = () => {
        const store = request.result.createObjectStore(STORE, {
          keyPath: "order",
          autoIncrement: true,
        });
        store.createIndex("id", "id", { unique: true });
      };
      request.onsuccess = () => {
        request.result.onversionchange = () => {
          request.result.close();
          opened = undefined;
        };
        resolve(request.result);
      };
      request.onerror = () => {
        opened = undefined;
        reject(request.error);
      };
    });
    return opened;
  };

  // Does one thing in one transaction; it is kept once the promise is.
  const inStore = async (mode, act) => {
    const base = await database();
    return new Promise((resolve, reject) => {
      const transaction = base.transaction(STORE, mode, { durability: "strict" });
      const asked = act(transaction.objectStore(STORE));
      transaction.oncomplete = () => resolve(asked?.result);
      transaction.onabort = () => reject(transaction.error);
    });
  };

  const tell = (what) => {
    heard.dispatchEvent(new CustomEvent("change", { detail: what }));
    others.postMessage(what);
  };
  if (works) {
    others.onmessage = (event) =>
      heard.dispatchEvent(new CustomEvent("change", { detail: event.data }));
  }

  const all = async () => (works ? inStore("readonly", (store) => store.getAll()) : []);

  const next = (order) =>
    inStore("readonly", (store) => store.get(IDBKeyRange.lowerBound(order, true)));

  const add = async (things) => {
    navigator.storage?.persist?.();
    await inStore("readwrite", (store) => things.forEach((thing) => store.add(thing)));
    things.forEach(({ id }) => tell({ id, state: "waiting" }));
  };

  // Changes a thing where `change` returns it anew; leaves it where it returns nothing.
  const alter = async (order, change) => {
    let changed;
    await inStore("readwrite", (store) => {
      const asked = store.get(order);
      asked.onsuccess = () => {
        changed = asked.result && change(asked.result);
        if (changed) {
          store.put(changed);
        }
      };
    });
    return changed;
  };

  const remove = async (thing, answer) => {
    await inStore("readwrite", (store) => store.delete(thing.order));
    tell({ id: thing.id, state: "away", answer });
  };

  // Takes back what was never tried; says whether that was still so.
  const takeBack = async (id) => {
    let was;
    await inStore("readwrite", (store) => {
      const asked = store.index("id").get(id);
      asked.onsuccess = () => {
        was = asked.result;
        if (was && !was.tried_at) {
          store.delete(was.order);
          tell({ id, state: "away" });
        }
      };
    });
    return Boolean(was && !was.tried_at);
  };

  const doorOf = (site) => `/s/${encodeURIComponent(site)}/sending/`;
  const jsonOf = (answer) => answer.json().catch(() => ({}));

  // Who is signed in, and a fresh key against forged forms.
  const openDoor = async (site) => {
    const answer = await fetch(doorOf(site), {
      headers: { Accept: "application/json" },
      cache: "no-store",
      redirect: "error",
      signal: AbortSignal.timeout(DOOR_MS),
    });
    const told = await jsonOf(answer);
    if (answer.ok && told.csrf) {
      return told;
    }
    if (answer.status === 401) {
      return { stop: "signed_out" };
    }
    return told.state === "gone" ? { ...told, refuses: told } : { stop: "later" };
  };

  const bodyOf = (thing) => {
    const body = new FormData();
    body.append("id", thing.id);
    body.append("what", thing.what);
    body.append("happened_at", thing.happened_at);
    body.append("sent_at", new Date().toISOString());
    thing.fields.forEach(([name, value]) => body.append(name, value));
    thing.files.forEach(([name, file, called]) => body.append(name, file, called));
    return body;
  };

  const post = (thing, csrf) =>
    fetch(doorOf(thing.site), {
      method: "POST",
      headers: { Accept: "application/json", "X-CSRFToken": csrf },
      body: bodyOf(thing),
      redirect: "error",
      signal: AbortSignal.timeout(SENDING_MS),
    });

  const needsPerson = async (thing, told) => {
    const state = told.state || "refused";
    await alter(thing.order, (now) => ({
      ...now,
      state,
      said: told.words || WORDS[state] || WORDS.needs_you,
      fields_said: told.fields || {},
      same_job: told.same_job,
    }));
    tell({ id: thing.id, state, answer: told });
  };

  // Sends one thing; returns why nothing more can be sent now, if so.
  const sendOne = async (thing, csrf) => {
    const at = new Date().toISOString();
    if (!(await alter(thing.order, (now) => ({ ...now, tried_at: at })))) {
      return undefined; // taken back at the last moment
    }
    const answer = await post(thing, csrf);
    const told = await jsonOf(answer);
    const isOurs = told.id === thing.id;
    const isRefused = answer.status >= 400 && answer.status < 500 && told.state !== "busy";
    if (answer.ok && isOurs) {
      return remove(thing, told);
    }
    if (answer.status === 413 || (isRefused && isOurs)) {
      return needsPerson(thing, { state: "too_large", ...told });
    }
    return answer.status === 401 ? "signed_out" : "later";
  };

  const sendThing = async (thing, doors) => {
    doors[thing.site] ??= await openDoor(thing.site);
    const door = doors[thing.site];
    // Kept by somebody else on this phone: it waits for them.
    if (door.stop || thing.person !== door.person) {
      return door.stop;
    }
    return door.refuses ? needsPerson(thing, door.refuses) : sendOne(thing, door.csrf);
  };

  // Sends all that waits, in its order; stops at the first that does not get through.
  const sendAll = async () => {
    const doors = {};
    let stopped;
    for (let thing = await next(0); thing && !stopped; thing = await next(thing.order)) {
      if (thing.state === "waiting") {
        stopped = await sendThing(thing, doors).catch(() => "later");
      }
    }
    tell({ state: "rest", stopped });
    return stopped;
  };

  // One page of all open ones sends at a time; what asks meanwhile shares one turn.
  const replay = async () => {
    if (!works || !(await all()).some((thing) => thing.state === "waiting")) {
      return undefined;
    }
    queued ??= navigator.locks.request(NAME, () => {
      queued = undefined;
      return sendAll();
    });
    return queued;
  };

  const clear = async () => works && inStore("readwrite", (store) => store.clear());

  if (works) {
    const whenSeen = () => document.visibilityState === "visible" && replay();
    window.addEventListener("online", whenSeen);
    window.addEventListener("pageshow", whenSeen);
    document.addEventListener("visibilitychange", whenSeen);
    setInterval(whenSeen, TRY_AGAIN_MS);
  }
  return {
    ...{ works, heard, all, add, alter, remove, takeBack, replay, clear },
  };
})();
