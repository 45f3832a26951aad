// Makes photos smaller on the phone before they are sent or kept; without it they go
// as they are. A photo made anew has no day in it, so its name carries it.
"use strict";

(() => {
  const LONGEST = 1600;
  const QUALITY = 0.85;
  const HEAD_BYTES = 128 * 1024;
  const MOST_AT_ONCE = 20;
  // A camera writes "2024:05:06 10:11:12"; the first of several is the oldest edit.
  const TAKEN = /\b((?:19|20)\d\d):([01]\d):([0-3]\d) [0-2]\d:[0-5]\d:[0-5]\d/g;

  const dayOf = async (file) => {
    const head = await file.slice(0, HEAD_BYTES).arrayBuffer();
    const text = new TextDecoder("latin1").decode(head);
    const days = [...text.matchAll(TAKEN)].map((found) => found.slice(1, 4).join("-"));
    if (days.length) {
      return days.sort()[0];
    }
    const at = new Date(file.lastModified);
    const two = (number) => String(number).padStart(2, "0");
    return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  };

  // Returns a smaller copy, or the file itself where that cannot be made or is larger.
  const smaller = async (file) => {
    let picture;
    try {
      picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    } catch {
      return file; // a kind this browser cannot read: the server may
    }
    const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    const paper = canvas.getContext("2d");
    paper.fillStyle = "#fff";
    paper.fillRect(0, 0, canvas.width, canvas.height);
    paper.drawImage(picture, 0, 0, canvas.width, canvas.height);
    picture.close();
    const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
    canvas.width = canvas.height = 0; // some phones keep its memory else
    if (!blob || blob.size >= file.size) {
      return file;
    }
    return new File([blob], `taken-${await dayOf(file)}.jpg`, { type: "image/jpeg" });
  };

  const counted = (form) =>
    [...form.querySelectorAll("input[data-photo]")].reduce(
      (number, box) => number + box.files.length,
      0,
    );

  const say = (form, box) => {
    const place = form.querySelector("[data-photo-words]");
    const words = place.dataset;
    const number = counted(form);
    place.textContent = "";
    if (number > MOST_AT_ONCE) {
      place.textContent = words.many.replace("{number}", number);
    } else if (number) {
      place.textContent = (number === 1 ? words.one : words.several).replace(
        "{number}",
        number,
      );
    }
    box.toggleAttribute("data-chosen", box.files.length > 0);
  };

  const shrink = async (box) => {
    const chosen = [...box.files];
    const kept = new DataTransfer();
    for (const file of chosen) {
      kept.items.add(await smaller(file).catch(() => file)); // one at a time: memory
    }
    // Somebody may have chosen others meanwhile; then these are of no interest.
    if (chosen.length === box.files.length && chosen.every((one, at) => one === box.files[at])) {
      box.files = kept.files;
    }
  };

  const working = new WeakMap();
  document.addEventListener("change", (event) => {
    const box = event.target.closest?.("input[data-photo]");
    if (!box) {
      return;
    }
    say(box.form, box);
    const before = working.get(box.form) || Promise.resolve();
    const now = before.then(() => shrink(box)).finally(() => {
      if (working.get(box.form) === now) {
        working.delete(box.form);
      }
    });
    working.set(box.form, now);
  });

  // Whoever presses at once waits until the photos are small. On the window, this is
  // heard before whatever else listens.
  window.addEventListener(
    "submit",
    (event) => {
      const form = event.target;
      const waits = working.get(form);
      const isTooMany = counted(form) > MOST_AT_ONCE;
      if (!waits && !isTooMany) {
        return;
      }
      event.preventDefault();
      event.stopImmediatePropagation();
      if (waits && !isTooMany) {
        const { submitter } = event;
        waits.then(() => form.requestSubmit(submitter));
      }
    },
    true,
  );
})();
