// The count page: − and + and a keypad over one number. Without this file the number can still be typed.
const form = document.querySelector("form.adding");
const number = form?.querySelector("input[name=quantity]");

function set(value) {
  number.value = String(Math.min(1000000, Math.max(0, value)));
}

function act(button) {
  const now = Number.parseInt(number.value, 10) || 0;
  const { step, digit, clear } = button.dataset;
  if (step) set(now + Number(step));
  // A digit begins anew after the page has set the number itself.
  else if (digit) { set(fresh ? Number(digit) : now * 10 + Number(digit)); }
  else if (clear) set(Math.floor(now / 10));
  fresh = false;
}

let fresh = true;
if (number) {
  form.querySelectorAll("[hidden]").forEach((part) => part.removeAttribute("hidden"));
  form.addEventListener("click", (event) => {
    const button = event.target.closest("button[type=button]");
    if (button) act(button);
  });
  number.addEventListener("input", () => { fresh = false; });
  form.addEventListener("reset", () => { fresh = true; });
}

// A copy from out of reach was taken along without the pile that a label names.
const named = new URLSearchParams(location.search).get("pile");
if (named) {
  for (const field of document.querySelectorAll("input[type=text][name=pile]")) {
    if (field.value === named) continue;
    field.value = named;
    field.closest("details").querySelector("summary").textContent = `Pile: ${named}`;
  }
}
