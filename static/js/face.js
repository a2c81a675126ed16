// The little that needs a script; every page works without it.
"use strict";

// A page left open must not lie about "now": its pieces listen for this event and read themselves again.
const MINUTE = 60_000;
let looked = Date.now();
const lookAgain = () => {
  const writing = document.activeElement?.matches("input, select, textarea");
  if (document.hidden || writing || Date.now() - looked < MINUTE) return;
  looked = Date.now();
  document.body.dispatchEvent(new Event("minute"));
};
setInterval(lookAgain, MINUTE / 4);
document.addEventListener("visibilitychange", lookAgain);

// Said where the answers stand, because a tap that did not arrive must not look like one that did.
const say = (words) => {
  const line = document.createElement("p");
  line.className = "error";
  line.textContent = words;
  document.getElementById("messages").replaceChildren(line);
};
const lost = "That did not reach the workshop's computer, so nothing was written down. Try again.";
document.body.addEventListener("htmx:sendError", () => say(lost));
document.body.addEventListener("htmx:timeout", () => say(lost));
document.body.addEventListener("htmx:responseError", (event) => {
  const refused = event.detail.xhr.status === 403;
  say(refused ? "The page is too old to be trusted. Load it again." : "Something went wrong there; nothing was written down.");
});

// On a phone, where the next act stands at the thumb anyway, the day opens at the present hour.
const isPhone = matchMedia("(max-width: 47.99rem)").matches;
if (isPhone && !location.hash) document.getElementById("now-line")?.scrollIntoView({ block: "center", behavior: "instant" });
