// Two small parts of the intake: a chooser of pictures, and a photograph that never leaves the browser.
function made(tag, attributes, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value);
  }
  element.append(...children);
  return element;
}

const STYLE = `
.oddswap-choices { display: flex; gap: 6px; overflow-x: auto; padding: 3px; }
.oddswap-choices button { flex: none; width: 104px; padding: 3px; border: 1px solid $LINE; background: $PAPER; color: $INK; font: 12px system-ui, sans-serif; cursor: pointer; }
.oddswap-choices button[aria-pressed=true] { outline: 3px solid $HIGHLIGHT; outline-offset: -1px; }
.oddswap-choices button:focus-visible, .oddswap-photo input:focus-visible { outline: 3px dashed $FOCUS; outline-offset: 1px; }
.oddswap-choices img { width: 96px; height: 62px; object-fit: contain; display: block; }
.oddswap-photo img { max-width: 100%; max-height: 220px; display: block; margin-top: 4px; }
.oddswap-photo label { font: 13px system-ui, sans-serif; }
`;

function chooser({ model, el }) {
  const list = made("div", { class: "oddswap-choices", role: "group", "aria-label": "Which puzzle is it?" });
  const buttons = model.get("options").map(([name, title, picture]) => {
    const button = made("button", { type: "button", title: name, onclick: () => { model.set("value", name); model.save_changes(); } },
      made("img", { src: picture, alt: "" }), made("span", {}, title));
    button.dataset.name = name;
    return button;
  });
  const show = () => buttons.forEach(b => b.setAttribute("aria-pressed", String(b.dataset.name === model.get("value"))));
  list.append(...buttons);
  el.append(made("style", {}, STYLE), list);
  model.on("change:value", show);
  show();
  return () => model.off("change:value", show);
}

function photo({ el }) {
  let address = "";
  const picture = made("img", { alt: "your photograph, for comparing; it stays in this browser" });
  picture.hidden = true;
  const input = made("input", { type: "file", accept: "image/*", onchange: () => {
    if (address) URL.revokeObjectURL(address);
    const file = input.files[0];
    address = file ? URL.createObjectURL(file) : "";
    picture.hidden = !file;
    if (file) picture.src = address;
  } });
  el.append(made("style", {}, STYLE), made("div", { class: "oddswap-photo" },
    made("label", {}, "A photograph to lay beside it (it is not stored, copied or sent): ", input), picture));
  return () => { if (address) URL.revokeObjectURL(address); };
}

export default { render(context) { return context.model.get("part") === "photo" ? photo(context) : chooser(context); } };
