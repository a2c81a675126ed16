// The order pad without this file: type the number, leave the price empty, choose when it is due. All it does is taps.
"use strict";

const pad = document.querySelector(".pad");

// A stepper for gloves and thumbs around each number.
const stepper = (input) => {
  const button = (sign, by, name) => {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "act";
    made.textContent = sign;
    made.setAttribute("aria-label", name);
    made.addEventListener("click", () => {
      input.value = Math.min(500, Math.max(1, (Number.parseInt(input.value, 10) || 0) + by));
    });
    return made;
  };
  const row = document.createElement("div");
  row.className = "stepper";
  input.replaceWith(row);
  row.append(button("−", -1, "one less"), input, button("+", 1, "one more"));
};
pad.querySelectorAll(".quantity input").forEach(stepper);

// The price and the text follow the design, until somebody types a price of their own.
const follow = (line) => {
  const design = line.querySelector(".design select");
  const price = line.querySelector(".price input");
  const text = line.querySelector(".text");
  const look = () => {
    const chosen = design.selectedOptions[0];
    if (price && !price.dataset.typed) price.value = chosen.dataset.price ?? "";
    text.hidden = chosen.dataset.text === "False" && !text.querySelector("input").value;
  };
  price?.addEventListener("input", () => { price.dataset.typed = "yes"; });
  if (price?.value && price.value !== design.selectedOptions[0].dataset.price) price.dataset.typed = "yes";
  design.addEventListener("change", look);
  look();
};
pad.querySelectorAll(".line").forEach(follow);

// Due follows the channel, until somebody says when: a fair's stock when it opens, all else in two weeks.
const due = (value) => pad.querySelector(`[name=due][value="${value}"]`);
let said = pad.querySelector("[aria-invalid=true]") !== null;
pad.addEventListener("change", (event) => {
  if (event.target.name === "due") said = true;
  if (event.target.name === "channel" && !said) due(event.target.value === "fair" ? "fair" : "2").checked = true;
});

// What a tap brings out must not lie under the button that stays at the thumb.
pad.addEventListener("change", (event) => {
  if (event.target.name === "due" || event.target.name === "channel") {
    const [out] = [...pad.querySelectorAll(".due-day, .fair")].reverse().filter((field) => field.offsetHeight);
    out?.scrollIntoView({ block: "center" });
  }
});
