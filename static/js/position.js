// Fills in the position that a phone knows of itself; typing it works as well.

const button = document.querySelector("[data-position]");

if (button && navigator.geolocation) {
  const words = document.getElementById("position-words");
  const fill = (id, text) => {
    document.getElementById(id).value = text;
  };
  button.hidden = false;
  button.addEventListener("click", () => {
    words.textContent = WORDS.position_reading;
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        const both = [coords.latitude, coords.longitude];
        fill(button.dataset.position, both.map((each) => each.toFixed(6)).join(", "));
        fill(button.dataset.accuracy, `${Math.ceil(coords.accuracy)} m`);
        words.textContent = WORDS.position_read;
      },
      () => {
        words.textContent = WORDS.position_none;
      },
      { enableHighAccuracy: true, maximumAge: 0, timeout: 30000 },
    );
  });
}
