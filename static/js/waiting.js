// The page of what waits on this phone: what it is, how long it waits, what it needs.
"use strict";

(async () => {
  const words = JSON.parse(document.getElementById("waiting-words").textContent);
  const list = document.getElementById("things");
  const said = document.getElementById("said");
  const tryNow = document.getElementById("try-now");
  const mine = document.body.dataset.person;
  const OLD_MS = 3 * 24 * 3600 * 1000;

  if (!outbox.works) {
    said.textContent = words.not_here;
    return;
  }

  const element = (name, look, ...parts) => {
    const made = document.createElement(name);
    made.className = look;
    made.append(...parts);
    return made;
  };
  const when = (moment) =>
    new Intl.DateTimeFormat(document.documentElement.lang, {
      dateStyle: "full",
      timeStyle: "short",
    }).format(new Date(moment));

  // What a person typed, with the words beside its box.
  const typed = (thing) =>
    thing.fields.filter(([name, value]) => value && thing.labels?.[name]);

  const valuesOf = (thing) =>
    typed(thing).map(([name, value]) =>
      element("p", "small", `${thing.labels[name]}: ${value.slice(0, 300)}`),
    );

  // Boxes to correct what was refused.
  const boxesOf = (thing) =>
    typed(thing).map(([name, value]) => {
      const box = element("input", "");
      box.name = name;
      box.value = value;
      box.id = `${thing.id}-${name}`;
      const label = element("label", "", thing.labels[name]);
      label.htmlFor = box.id;
      const errors = (thing.fields_said?.[name] || []).map((each) =>
        element("span", "field__error", each),
      );
      return element("div", "field", label, box, ...errors);
    });

  // Sends a thing again with what a person changed: the server wrote nothing of it yet,
  // and under its old id it would be another body.
  const sendChanged = async (thing, fields) => {
    const { said: was, fields_said, same_job, tried_at, ...kept } = thing;
    const anew = { ...kept, id: crypto.randomUUID(), fields, state: "waiting" };
    await outbox.alter(thing.order, () => anew);
    await outbox.replay();
    await show();
  };

  const changed = (thing, form) =>
    thing.fields.map(([name, value]) => [name, form.elements[name]?.value ?? value]);

  const correcting = (thing) => {
    const form = element("form", "stack stack--tight", ...boxesOf(thing));
    form.append(element("button", "button", words.try_again));
    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      await sendChanged(thing, changed(thing, form));
    });
    return form;
  };

  // The question whether it stands in the log already, in the server's own words.
  const answering = ({ same_job: asked, ...thing }) => {
    const left = new Set([asked.seen_field, asked.answer_field]);
    const answer = async (value) => {
      const fields = thing.fields.filter(([name]) => !left.has(name));
      const seen = asked.seen.map((each) => [asked.seen_field, each]);
      await sendChanged(thing, [...fields, ...seen, [asked.answer_field, value]]);
    };
    const buttons = asked.answers.map((each) => buttonThat(each.words, () => answer(each.value)));
    return element(
      "div",
      "stack stack--tight",
      ...asked.lines.map((line) => element("p", "small", line)),
      element("div", "row", ...buttons),
      element("p", "state", words.same_means),
    );
  };

  const throwing = (thing) => {
    const place = element("div", "row");
    const ask = () => {
      const yes = buttonThat(words.throw_away_yes, () => outbox.remove(thing));
      place.replaceChildren(words.throw_away_sure, yes, buttonThat(words.keep_it, offer));
      yes.focus();
    };
    const offer = () => place.replaceChildren(buttonThat(words.throw_away, ask));
    offer();
    return place;
  };

  const stateOf = (thing) => {
    if (thing.person !== mine && mine) {
      return words.of_another;
    }
    if (thing.state !== "waiting") {
      return thing.said;
    }
    return thing.tried_at ? words.may_have_arrived : words.waits;
  };

  // Of what somebody else kept only that it is there.
  const cardOf = (thing) => {
    const isMine = thing.person === mine || !mine;
    const isOld = Date.now() - Date.parse(thing.happened_at) > OLD_MS;
    const needsMe = isMine && thing.state !== "waiting";
    const card = element("li", "card");
    if (isMine) {
      card.append(element("h2", "", thing.words), ...(needsMe ? [] : valuesOf(thing)));
      card.append(...thing.files.map(([, file]) => pictureOf(file)));
    }
    card.append(
      element("p", "state", words.done_at.replace("{when}", when(thing.happened_at))),
      element("p", needsMe ? "late" : "", stateOf(thing)),
    );
    if (isOld) {
      card.append(element("p", "late", words.old));
    }
    if (needsMe) {
      card.append(thing.same_job ? answering(thing) : correcting(thing));
    }
    card.append(throwing(thing));
    return card;
  };

  const pictureOf = (file) =>
    element("p", "small", `${words.photo}, ${Math.ceil(file.size / 1000)} kB`);

  const show = async () => {
    const things = await outbox.all();
    list.replaceChildren(...things.map(cardOf));
    tryNow.hidden = !things.some((thing) => thing.state === "waiting");
    if (!things.length) {
      said.textContent = words.nothing;
    }
  };

  tryNow.addEventListener("click", async () => {
    said.textContent = words.trying;
    const stopped = await outbox.replay();
    const isOver = !(await outbox.all()).some((thing) => thing.state === "waiting");
    said.textContent = isOver && !stopped ? words.all_sent : words.still_waiting;
    await show();
  });
  // A box somebody types in is not taken away under their hands.
  outbox.heard.addEventListener("change", () => {
    if (!list.contains(document.activeElement) || document.activeElement.tagName === "BUTTON") {
      show();
    }
  });
  await show();
})();
