// Forms this phone may keep: `data-keep` says what they do, `data-keep-…` about what.
//
// What such a form does goes through the outbox, so that an answer that got lost does
// nothing twice. A form of htmx goes its own way while there is a network.
"use strict";

const phoneLine = (id, ...parts) => {
  const place = document.getElementById("phone");
  document.getElementById(id)?.remove();
  if (place && parts.length) {
    const line = document.createElement("p");
    line.id = id;
    line.className = "phone__line";
    line.append(...parts);
    place.append(line);
  }
};
const linkTo = (path, words) => {
  const link = document.createElement("a");
  link.href = path;
  link.textContent = words;
  return link;
};
const buttonThat = (words, act, look = "button--quiet button--small") => {
  const button = document.createElement("button");
  button.type = "button";
  button.className = `button ${look}`;
  button.textContent = words;
  button.addEventListener("click", act);
  return button;
};
const counted = (number, name) =>
  WORDS[number === 1 ? `${name}_one` : `${name}_other`].replace("{number}", number);

const PATIENCE_MS = 8000;
const within = (ms, promise) =>
  Promise.race([promise, new Promise((done) => setTimeout(done, ms, "later"))]);

(() => {
  if (!outbox.works) {
    return;
  }
  // Done once for what they are about: kept, they cannot be pressed again.
  const ONCE = new Set(
    ["task_done", "task_skip", "task_later", "entry_undo", "block_done", "all_done"],
  );
  const NOT_SENT = new Set(["csrfmiddlewaretoken", "back"]);
  const NOT_FIELDS = new Set(["site", "words", "next", "said"]);
  const page = document.body.dataset;
  const answers = new Map();
  const lines = new Map(); // id of what is kept -> its line on this page

  const snake = (name) =>
    name.replace(/[A-Z]/g, (big, at) => (at ? "_" : "") + big.toLowerCase());

  const aboutOf = (form) =>
    Object.entries(form.dataset)
      .filter(([name]) => name.startsWith("keep") && name.length > 4)
      .map(([name, value]) => [snake(name.slice(4)), value])
      .filter(([name]) => !NOT_FIELDS.has(name));

  const keyOf = (form) =>
    JSON.stringify([form.dataset.keep, form.dataset.keepSite, aboutOf(form)]);

  const labelsOf = (form) =>
    Object.fromEntries(
      [...form.elements]
        .filter((each) => each.labels?.length && each.type !== "radio")
        .map((each) => [each.name, each.labels[0].textContent.trim()]),
    );

  // The date that a page of days ago put into the box is not what anybody said: the
  // server takes the day on which the form was sent.
  const isPagesDay = ({ elements }, name) =>
    name === "on" &&
    elements.on.type === "date" &&
    elements.on.value === elements.on.defaultValue &&
    elements.on.value === elements.on.max;

  // Returns what a form says, its files apart; `what` is the name of the act itself.
  const saidIn = (form, submitter) => {
    const data = new FormData(form);
    if (submitter?.name) {
      data.append(submitter.name, submitter.value);
    }
    const said = [...data].filter(([name]) => !NOT_SENT.has(name) && !isPagesDay(form, name));
    const named = said.map(([name, value]) => [name === "what" ? "form_what" : name, value]);
    return {
      fields: named.filter(([, value]) => typeof value === "string"),
      files: named
        .filter(([, value]) => value instanceof File && value.size)
        .map(([name, file]) => [name, file, file.name]),
    };
  };

  // Each photo arrives, or is refused, by itself.
  const thingsOf = (form, submitter) => {
    const { fields, files } = saidIn(form, submitter);
    const one = {
      site: form.dataset.keepSite,
      what: form.dataset.keep,
      words: form.dataset.keepWords || "",
      fields: [...aboutOf(form), ...fields],
      files,
      labels: labelsOf(form),
      key: keyOf(form),
      happened_at: new Date().toISOString(),
      person: page.person,
      state: "waiting",
    };
    const parts = one.what === "tree_photo" && files.length > 1 ? files : [null];
    return parts.map((file) => ({
      ...one,
      id: crypto.randomUUID(),
      files: file ? [file] : files,
    }));
  };

  const showKept = (form, thing, words) => {
    const line = document.createElement("p");
    line.className = "kept";
    line.setAttribute("role", "status");
    line.append(words || WORDS.kept);
    if (!thing.tried_at) {
      line.append(" ", buttonThat(WORDS.undo, () => undo(form, thing)));
    }
    const whole = form.closest(".line");
    if (whole) {
      whole.classList.add("line--kept");
      whole.append(line);
    } else {
      form.after(line);
    }
    form.hidden = ONCE.has(thing.what);
    lines.set(thing.id, line);
  };

  const undo = async (form, thing) => {
    const line = lines.get(thing.id);
    if (await outbox.takeBack(thing.id)) {
      line.textContent = WORDS.undone;
      form.hidden = false;
      form.querySelector("button")?.focus();
    } else if (lines.has(thing.id)) {
      line.textContent = WORDS.undo_late;
    }
  };

  // Where the page goes on; the round offers to take back what `data-keep-said` names.
  const nextOf = (form, entry) => {
    const { keepSaid, keepSite, keepNext } = form.dataset;
    const back = form.elements.back?.value || keepNext;
    if (keepSaid && entry) {
      return `/s/${keepSite}/?${keepSaid}=${entry}`;
    }
    return back || (page.method === "GET" ? location.href : `/s/${keepSite}/`);
  };
  const goTo = (path) => {
    const to = new URL(path, location.href);
    if (to.pathname + to.search === location.pathname + location.search) {
      location.hash = to.hash;
      location.reload();
    } else {
      location.assign(to);
    }
  };

  const saidOf = (things) => [
    ...new Set(things.map((thing) => answers.get(thing.id)?.words || WORDS.sent)),
  ];

  const arrived = (form, things) => {
    sessionStorage.setItem("said", JSON.stringify(saidOf(things)));
    goTo(nextOf(form, answers.get(things[0].id)?.entry));
  };

  // The server asked or refused, and wrote nothing: its page says so best.
  const askOnPage = (form, submitter) => {
    form.dataset.isAsked = "yes";
    form.requestSubmit(submitter);
  };

  const settle = async (form, submitter, things, stopped) => {
    const now = new Map((await outbox.all()).map((thing) => [thing.id, thing]));
    const left = things.map(({ id }) => now.get(id)).filter(Boolean);
    const isFresh = !page.keptAt && things.length === 1;
    if (!left.length) {
      arrived(form, things);
    } else if (isFresh && /asks|refused|too_large/.test(left[0].state)) {
      await outbox.remove(left[0]);
      askOnPage(form, submitter);
    } else {
      const words = stopped === "signed_out" ? WORDS.kept_signed_out : WORDS.kept;
      left.forEach((one) => showKept(form, one, one.said || words));
      saidOf(things.filter((thing) => !now.has(thing.id))).forEach((said, at) =>
        phoneLine(`said-${at}`, said),
      );
      if (!ONCE.has(form.dataset.keep)) {
        form.reset();
      }
      // One tree at a time: on to the next one.
      const { hash } = new URL(form.elements.back?.value || "", location.href);
      location.hash = hash || location.hash;
    }
  };

  const take = async (form, submitter) => {
    if (form.dataset.isTaken) {
      return; // pressed twice
    }
    form.dataset.isTaken = "yes";
    const things = thingsOf(form, submitter);
    phoneLine("keeping-line", WORDS.keeping);
    try {
      const isOn = navigator.onLine;
      if (await outbox.add(things).then(() => true, console.warn)) {
        const stopped = isOn ? await within(PATIENCE_MS, outbox.replay()) : "later";
        await settle(form, submitter, things, stopped);
      } else if (isOn && !page.keptAt) {
        askOnPage(form, submitter);
      } else {
        sayTrouble(WORDS.no_room);
      }
    } finally {
      phoneLine("keeping-line");
      delete form.dataset.isTaken;
    }
  };

  document.addEventListener(
    "submit",
    (event) => {
      const form = event.target;
      const isPlain = !form.dataset?.keep || event.submitter?.hasAttribute("formaction");
      const goesItsWay = form.hasAttribute("hx-post") && navigator.onLine && !page.keptAt;
      if (isPlain || form.dataset.isAsked || goesItsWay) {
        return;
      }
      event.preventDefault();
      event.stopImmediatePropagation();
      take(form, event.submitter);
    },
    true,
  );

  // A form of htmx got no answer, none of ours, or a sign-in page.
  const isLost = ({ xhr }) =>
    !xhr.status || xhr.status >= 500 || new URL(xhr.responseURL).pathname.startsWith("/accounts/");
  const keepLost = (event) => {
    const form = event.detail.elt;
    if (form.dataset?.keep && !form.dataset.isAsked && isLost(event.detail)) {
      event.detail.isKept = true;
      event.detail.shouldSwap = false;
      take(form, event.detail.requestConfig.triggeringEvent?.submitter);
    }
  };
  document.addEventListener("htmx:sendError", keepLost, true);
  document.addEventListener("htmx:responseError", keepLost, true);
  document.addEventListener(
    "htmx:beforeSwap",
    (event) => event.detail.xhr.status < 300 && keepLost(event),
    true,
  );

  const isMine = (thing) => thing.person === page.person || !page.person;
  const summary = async (stopped) => {
    const things = (await outbox.all()).filter(isMine);
    const waiting = things.filter((thing) => thing.state === "waiting").length;
    const parts = [
      ...(waiting ? [counted(waiting, "waiting")] : []),
      ...(things.length > waiting ? [counted(things.length - waiting, "needs")] : []),
    ];
    phoneLine("waiting-line", ...(parts.length ? [linkTo(page.waiting, parts.join(", "))] : []));
    if (stopped === "signed_out" && parts.length) {
      const back = encodeURIComponent(location.pathname);
      const signIn = linkTo(`/accounts/login/?next=${back}`, WORDS.sign_in);
      phoneLine("signed-out-line", WORDS.signed_out, " ", signIn);
    } else if (stopped !== undefined || !parts.length) {
      phoneLine("signed-out-line");
    }
  };

  outbox.heard.addEventListener("change", ({ detail }) => {
    const line = lines.get(detail.id);
    if (detail.answer) {
      answers.set(detail.id, detail.answer);
    }
    if (line && detail.answer) {
      line.textContent = detail.answer.words || WORDS.sent;
    }
    summary(detail.stopped);
  });

  const begin = async () => {
    const said = JSON.parse(sessionStorage.getItem("said") || "[]");
    sessionStorage.removeItem("said");
    said.forEach((words, at) => phoneLine(`said-${at}`, words));
    const forms = [...document.querySelectorAll("form[data-keep]")];
    for (const thing of (await outbox.all()).filter(isMine)) {
      if (ONCE.has(thing.what)) {
        forms
          .filter((form) => keyOf(form) === thing.key)
          .forEach((form) => showKept(form, thing, thing.said));
      }
    }
    await summary();
    await outbox.replay();
  };
  begin();
})();
