// A button that fetches a file from the kernel: saved on the person's computer, or opened in a tab.
// And a button that leads to a page of the notebook server, set to the right class first.

function base() {
  const config = document.getElementById("jupyter-config-data");
  return config ? JSON.parse(config.textContent).baseUrl : "/";
}

function render({ model, el }) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "jupyter-button widget-button bc-save";
  button.dataset.lmSuppressShortcuts = "true";
  const named = () => {
    button.textContent = model.get("words");
    button.disabled = !model.get("able");
  };
  named();
  model.on("change:words change:able", named);
  let parts = [];
  let tab = null;
  button.addEventListener("click", () => {
    parts = [];
    // A tab may only be opened while the click is being dealt with; it is filled when the answer is there.
    tab = model.get("opens") ? window.open("about:blank") : null;
    model.send({ want: "it" });
  });
  const words = (text) => {
    if (tab) tab.document.body.textContent = text;
  };
  const came = async (message, buffers) => {
    if (message.trouble) {
      if (tab) tab.close();
    } else if (message.steps) {
      await walk(message.steps, message.otherwise);
    } else {
      parts.push(...buffers);
      if (message.last) save(message);
    }
  };
  const walk = async (steps, otherwise) => {
    let answer = null;
    for (const step of steps) answer = await fetch(base() + step.split("#")[0], { credentials: "same-origin" });
    if (answer && answer.ok && tab) tab.location = base() + steps.at(-1);
    else words(otherwise);
  };
  const save = (message) => {
    const url = URL.createObjectURL(new Blob(parts, { type: message.kind }));
    parts = [];
    if (tab) {
      tab.location = url;
      return;
    }
    const link = document.createElement("a");
    link.href = url;
    link.download = message.name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(url), 60000);
  };
  model.on("msg:custom", came);
  el.append(button);
  return () => model.off("msg:custom", came);
}

export default { render };
