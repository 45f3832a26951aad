// A browser becomes a device that messages are sent to; the page itself holds all words.

const place = document.querySelector("form[data-push]");
const button = place.querySelector("[data-push-button]");
const says = (state) => {
  place.querySelectorAll("[data-push-says]").forEach((words) => {
    words.hidden = words.dataset.pushSays !== state;
  });
  button.hidden = !["ready", "failed", "asleep"].includes(state);
};

const bytesOf = (text) =>
  Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), (one) =>
    one.charCodeAt(0),
  );
const textOf = (buffer) =>
  btoa(String.fromCharCode(...new Uint8Array(buffer)))
    .replace(/\+/g, "-")
    .replace(/\//g, "_")
    .replace(/=+$/, "");

// Only on a home screen do iPhones and iPads have what it takes.
const wantsHomeScreen = () =>
  "standalone" in navigator && !navigator.standalone && !("PushManager" in window);

const missing = () => {
  if (!window.isSecureContext) {
    return "insecure";
  }
  if (wantsHomeScreen()) {
    return "home";
  }
  if (!("serviceWorker" in navigator) || !("PushManager" in window)) {
    return "none";
  }
  return Notification.permission === "denied" ? "denied" : "";
};

// No worker is ready where the host switched it off: wait no longer than for a breath.
const worker = () =>
  Promise.race([
    navigator.serviceWorker.ready,
    new Promise((done) => setTimeout(done, 4000)),
  ]);

const isOurs = (subscription) =>
  textOf(subscription.options.applicationServerKey) === place.dataset.push;

const look = async () => {
  const state = missing();
  says(state || "ready");
  if (state) {
    return;
  }
  const registration = await navigator.serviceWorker.getRegistration();
  const known = await registration?.pushManager.getSubscription();
  document.querySelectorAll("[data-push-here]").forEach((words) => {
    if (known && isOurs(known) && words.dataset.pushHere === known.endpoint) {
      words.hidden = false;
      says("here");
    }
  });
};

const subscribe = async (registration) => {
  const old = await registration.pushManager.getSubscription();
  if (old && !isOurs(old)) {
    await old.unsubscribe(); // made with a key that this server lost
  }
  return registration.pushManager.subscribe({
    userVisibleOnly: true,
    applicationServerKey: bytesOf(place.dataset.push),
  });
};

button.addEventListener("click", async () => {
  button.disabled = true;
  try {
    if ((await Notification.requestPermission()) === "granted") {
      const registration = await worker();
      if (!registration) {
        says("asleep");
        return;
      }
      const found = await subscribe(registration);
      place.elements.endpoint.value = found.endpoint;
      place.elements.p256dh.value = textOf(found.getKey("p256dh"));
      place.elements.auth.value = textOf(found.getKey("auth"));
      place.submit();
      return;
    }
    says(missing() || "ready");
  } catch {
    says("failed");
  } finally {
    button.disabled = false;
  }
});

look();
