// Passkeys: no button where the browser has none, and plain words for what goes wrong.
"use strict";

(() => {
  const WHY = {
    NotAllowedError: WORDS.passkey_unused,
    InvalidStateError: WORDS.passkey_held,
    SecurityError: WORDS.passkey_address,
  };

  document.querySelectorAll("[data-passkey]").forEach((button) => {
    button.hidden = !window.PublicKeyCredential;
  });
  document.querySelectorAll("[data-no-passkey]").forEach((words) => {
    words.hidden = Boolean(window.PublicKeyCredential);
  });

  document.addEventListener("allauth.error", (event) => {
    event.preventDefault();
    sayTrouble(WHY[event.detail.exception.name] || WORDS.passkey_failed);
    document.getElementById("trouble").scrollIntoView();
  });
})();
