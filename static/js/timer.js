// A clock for work, and hands-free: the screen stays on and the work is read aloud.
// All words stand in the page; without this script it is the same page, unread.
(() => {
  const START = "timer-start";
  const HANDS_FREE = "hands-free";
  const shown = document.querySelector("[data-timer-shown]");
  const clock = document.querySelector("[data-timer]");
  let awake = null;

  const started = () => Number(sessionStorage.getItem(START)) || 0;
  const isHandsFree = () => sessionStorage.getItem(HANDS_FREE) === "1";

  const keepAwake = async () => {
    const wanted = started() > 0 || isHandsFree();
    if (!wanted && awake) {
      await awake.release();
      awake = null;
    }
    if (wanted && !awake && "wakeLock" in navigator && document.visibilityState === "visible") {
      try {
        awake = await navigator.wakeLock.request("screen");
        awake.addEventListener("release", () => {
          awake = null;
        });
      } catch (refused) {
        awake = null; // a nearly empty battery: the page works all the same
      }
    }
  };

  const tell = () => {
    const since = started();
    const seconds = since ? Math.floor((Date.now() - since) / 1000) : 0;
    if (since) {
      shown.textContent = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
      shown.hidden = false;
    }
    const button = clock.querySelector("[data-timer-switch]");
    button.textContent = since ? button.dataset.off : button.dataset.on;
    return seconds;
  };

  if (clock && shown) {
    clock.hidden = false;
    clock.querySelector("[data-timer-switch]").addEventListener("click", () => {
      tell();
      if (started()) {
        fill();
        sessionStorage.removeItem(START);
      } else {
        sessionStorage.setItem(START, String(Date.now()));
      }
      tell();
      keepAwake();
    });
    setInterval(() => started() && tell(), 1000);
    tell();
  }

  // What is ticked while the clock runs took so long; the next one starts at nought.
  const fill = () => {
    const seconds = started() ? (Date.now() - started()) / 1000 : 0;
    if (seconds >= 30) {
      document.querySelectorAll("[data-timer-minutes]").forEach((box) => {
        box.value = String(Math.max(1, Math.round(seconds / 60)));
      });
    }
  };
  // No other work than that of `form` took so long.
  const again = (form) => {
    if (started()) {
      sessionStorage.setItem(START, String(Date.now()));
    }
    document.querySelectorAll("[data-timer-minutes]").forEach((box) => {
      box.value = box.form === form ? box.value : "";
    });
  };
  // Before anything else reads the form, such as what keeps it without a network.
  document.addEventListener("click", (event) => event.target.closest("form") && fill(), true);
  addEventListener(
    "submit",
    ({ target }) => target.querySelector("[data-timer-minutes]") && again(target),
    true,
  );
  addEventListener("hashchange", () => again());

  const stepOf = () =>
    (location.hash && document.getElementById(location.hash.slice(1))) ||
    document.querySelector(".one__step") ||
    document.body;

  const read = () => {
    const words = stepOf().querySelector("[data-say]");
    if (!isHandsFree() || !words || !("speechSynthesis" in window)) {
      return;
    }
    speechSynthesis.cancel();
    const said = new SpeechSynthesisUtterance(words.innerText);
    said.lang = document.documentElement.lang;
    speechSynthesis.speak(said);
  };

  const handsFree = document.querySelector("[data-hands-free]");
  if (handsFree) {
    handsFree.hidden = false;
    const button = handsFree.querySelector("[data-hands-free-switch]");
    const show = () => {
      button.textContent = isHandsFree() ? button.dataset.off : button.dataset.on;
    };
    button.addEventListener("click", () => {
      sessionStorage.setItem(HANDS_FREE, isHandsFree() ? "0" : "1");
      if (!isHandsFree() && "speechSynthesis" in window) {
        speechSynthesis.cancel();
      }
      show();
      keepAwake();
      read();
    });
    show();
    addEventListener("hashchange", read);
    read();
  }
  document.addEventListener("visibilitychange", keepAwake);
  keepAwake();
})();
