// The program on a phone: its worker, copies without a network, new versions, sign-out.
"use strict";

(() => {
  const page = document.body.dataset;
  const PERSON = "orchard-person";
  const workers = navigator.serviceWorker;
  const pocketPath = page.site && `/s/${page.site}/pocket/`;

  const whenWords = (moment) =>
    new Intl.DateTimeFormat(document.documentElement.lang, {
      weekday: "long",
      hour: "numeric",
      minute: "2-digit",
    }).format(moment);

  if (page.keptAt && page.site) {
    const when = whenWords(new Date(page.keptAt));
    phoneLine("copy-line", WORDS.copy_of.replace("{when}", when));
  }

  // Over plain http the page "You" says what is missing.
  document.querySelectorAll("[data-needs-https]").forEach((words) => {
    words.hidden = window.isSecureContext;
  });

  const typedIn = (form) =>
    JSON.stringify([...new FormData(form)].map(([name, value]) => [name, value.name ?? value]));
  const atFirst = new Map([...document.forms].map((form) => [form, typedIn(form)]));
  const isTyping = () => [...atFirst].some(([form, typed]) => typedIn(form) !== typed);

  const use = (coming) => {
    if (isTyping()) {
      sayTrouble(WORDS.typing);
      return;
    }
    workers.addEventListener("controllerchange", () => location.reload(), { once: true });
    coming.postMessage({ what: "use" });
  };

  const offerNew = (registration) => {
    const coming = registration.waiting;
    if (coming && workers.controller) {
      const button = buttonThat(WORDS.use_it, () => use(coming));
      phoneLine("new-version-line", WORDS.new_version, " ", button);
    }
  };

  // Another person's copies are not for whoever signs in after them.
  const tellWorker = (worker) => {
    if (page.keptAt || !page.person) {
      return;
    }
    const isOther = localStorage.getItem(PERSON) !== page.person;
    localStorage.setItem(PERSON, page.person);
    worker.postMessage({ what: "keep", pocket: pocketPath, isOther });
  };

  const begin = async () => {
    const registration = await workers.register(page.worker, { updateViaCache: "none" });
    offerNew(registration);
    registration.addEventListener("updatefound", () => {
      const coming = registration.installing;
      coming.addEventListener("statechange", () => offerNew(registration));
    });
    const { active } = await workers.ready;
    tellWorker(active);
    let hasSent = false;
    outbox.heard.addEventListener("change", ({ detail }) => {
      hasSent ||= Boolean(detail.answer);
      if (page.keptAt && page.site && detail.answer) {
        phoneLine("copy-line", linkTo(location.href, WORDS.network_back));
      }
      if (hasSent && detail.state === "rest" && pocketPath) {
        hasSent = false;
        active.postMessage({ what: "keep", pocket: pocketPath, isStale: true });
      }
    });
  };

  if (workers && page.worker) {
    begin().catch(console.warn); // no network: what there was stays
  } else if (workers && page.person) {
    // Copies are switched off: fetch the worker that takes itself away.
    workers.getRegistration().then((found) => found?.update()).catch(console.warn);
  }

  // Signing out takes all from this phone: it asks first where something waits.
  const forgetAll = async () => {
    localStorage.removeItem(PERSON);
    const names = window.caches ? await caches.keys() : [];
    await Promise.all(names.map((name) => caches.delete(name)));
    await outbox.clear();
    const registration = await workers?.getRegistration();
    const pushed = await registration?.pushManager?.getSubscription();
    await pushed?.unsubscribe();
  };

  const asked = async (number) => {
    const dialog = document.getElementById("leaving");
    dialog.querySelector("[data-number]").textContent = counted(number, "waiting");
    dialog.returnValue = "stay";
    dialog.showModal();
    await new Promise((done) => dialog.addEventListener("close", done, { once: true }));
    return dialog.returnValue === "leave";
  };

  const leave = async (form) => {
    if (!navigator.onLine) {
      sayTrouble(WORDS.leaving_needs_network);
      return;
    }
    await within(PATIENCE_MS, outbox.replay()).catch(console.warn);
    const { length } = await outbox.all().catch(() => []);
    if (!length || (await asked(length))) {
      await forgetAll().catch(console.warn); // the server's answer asks as well
      form.submit();
    }
  };

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (form.getAttribute("action") === "/accounts/logout/") {
      event.preventDefault();
      leave(form);
    }
  });
})();
