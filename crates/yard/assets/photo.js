// The photos page: a picture that was taken is sent at once. Without this file it is sent by its button.
for (const input of document.querySelectorAll("input[type=file][data-sends]")) {
  const form = input.form;
  const button = form.querySelector("button[type=submit]");
  button.hidden = true;
  form.classList.add("sends");
  input.addEventListener("change", () => {
    if (!input.files.length) return;
    form.requestSubmit(button);
  });
}
