// The photos page: a picture that was taken is sent at once. Without this file it is sent by its button.
for (const input of document.querySelectorAll("input[type=file][data-sends]")) {
  const form = input.form;
  const button = form.querySelector("button[type=submit]");
  button.hidden = true;
  form.classList.add("sends");
  input.addEventListener("change", () => {
    if (!input.files.length) return;
    // The camera may be closed and opened again before the first picture has gone.
    form.classList.add("busy");
    form.requestSubmit(button);
  });
}
