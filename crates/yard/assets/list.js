// The list page: rows copied from a mail or a spreadsheet carry their table with them; it is sent beside the plain
// rows, so that empty cells stay where they are. Without this file the plain rows are sent.
const pasted = document.querySelector("#pasted");
const table = document.querySelector("input[name=pasted_table]");
const says = document.querySelector("[data-pasted-says]");

function keep(markup, words) {
  table.value = markup;
  says.hidden = !words;
  says.textContent = words;
}

if (pasted && table && says) {
  pasted.addEventListener("paste", (event) => {
    const markup = event.clipboardData?.getData("text/html") ?? "";
    const whole = pasted.value.trim() === "" || (pasted.selectionStart === 0 && pasted.selectionEnd === pasted.value.length);
    // Only a table that is all that stands in the field can speak for it.
    if (whole && /<table[\s>]/i.test(markup) && markup.length < 8 << 20) keep(markup, "Pasted as a table: its columns are known.");
    else keep("", "");
  });
  pasted.addEventListener("input", (event) => {
    if (event.inputType !== "insertFromPaste") keep("", "");
  });
  pasted.form.addEventListener("reset", () => keep("", ""));
}
