// What a page does beyond links and forms; everything works without it.

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
document.addEventListener("htmx:sendError", () =>
  sayTrouble("That did not get through: no connection. Try again in a moment."),
);
document.addEventListener("htmx:responseError", (event) =>
  sayTrouble(
    event.detail.xhr.status === 403
      ? "That is not allowed for you any more. Load the page again."
      : "That did not work. Load the page again and try once more.",
  ),
);

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-copy]");
  if (button) {
    const field = document.getElementById(button.dataset.copy);
    field.select();
    if (navigator.clipboard) {
      navigator.clipboard.writeText(field.value).then(() => {
        button.textContent = "Copied";
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
