// What a page does beyond links and forms; everything works without it.
"use strict";

// The words of all scripts, in the reader's language; a page of errors has none.
const WORDS = JSON.parse(document.getElementById("words").textContent) || {};

// A refused form comes back with its errors: show them, don't drop them.
document.addEventListener("htmx:beforeSwap", (event) => {
  if (event.detail.xhr.status === 422) {
    event.detail.shouldSwap = true;
    event.detail.isError = false;
  }
});

// A tick that did not get through must say so in words.
const sayTrouble = (words) => {
  const place = document.getElementById("trouble");
  if (place) {
    place.textContent = words;
    place.hidden = false;
  }
};
document.addEventListener("htmx:sendError", (event) => {
  if (!event.detail.isKept) {
    sayTrouble(WORDS.no_connection);
  }
});
document.addEventListener("htmx:responseError", (event) => {
  if (!event.detail.isKept) {
    sayTrouble(event.detail.xhr.status === 403 ? WORDS.not_allowed : WORDS.failed);
  }
});

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-copy]");
  if (button) {
    const field = document.getElementById(button.dataset.copy);
    field.select();
    if (navigator.clipboard) {
      navigator.clipboard.writeText(field.value).then(() => {
        button.textContent = WORDS.copied;
      });
    }
  }
  // An open menu closes when the person presses elsewhere.
  document.querySelectorAll("details[data-menu][open]").forEach((menu) => {
    if (!menu.contains(event.target)) {
      menu.open = false;
    }
  });
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape") {
    document.querySelectorAll("details[data-menu][open]").forEach((menu) => {
      menu.open = false;
      menu.querySelector("summary").focus();
    });
  }
});
