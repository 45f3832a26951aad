// Passkeys: no button where the browser has none, and plain words for what goes wrong.

const WORDS = {
  NotAllowedError: "No passkey was used. It was cancelled, or there is none for this address.",
  InvalidStateError: "That device already holds a passkey of yours.",
  SecurityError: "Passkeys do not work at this address.",
};

document.querySelectorAll("[data-passkey]").forEach((button) => {
  button.hidden = !window.PublicKeyCredential;
});
document.querySelectorAll("[data-no-passkey]").forEach((words) => {
  words.hidden = Boolean(window.PublicKeyCredential);
});

document.addEventListener("allauth.error", (event) => {
  event.preventDefault();
  const place = document.getElementById("trouble");
  place.textContent =
    WORDS[event.detail.exception.name] || "The passkey did not work. Load the page again and try once more.";
  place.hidden = false;
  place.scrollIntoView();
});
