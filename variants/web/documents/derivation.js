"use strict";
// The page reads without this: it is a picture whose links lead to texts below. With it the picture
// moves under the hand and the texts stand beside it, one at a time.
(() => {
  const canvas = document.querySelector(".canvas");
  const svg = canvas.querySelector("svg");
  const axis = svg.querySelector(".axis");
  const links = [...svg.querySelectorAll("a[data-node]")];
  const sections = [...document.querySelectorAll("aside section")];
  const hint = document.querySelector(".hint");
  const [, , fullWide, fullHigh] = svg.getAttribute("viewBox").split(" ").map(Number);
  const AXIS_TOP = 38;
  const way = svg.querySelector("#way");
  const view = { x: 0, y: 0, scale: 1 };

  document.body.classList.add("alive");
  document.querySelector(".tools").hidden = false;
  hint.hidden = false;
  sections.forEach((one) => { one.hidden = true; });
  svg.setAttribute("preserveAspectRatio", "xMinYMin meet");

  const show = () => {
    const wide = canvas.clientWidth / view.scale, high = canvas.clientHeight / view.scale;
    view.x = Math.min(Math.max(view.x, -wide / 2), fullWide - wide / 2);
    view.y = Math.min(Math.max(view.y, -high / 2), fullHigh - high / 2);
    svg.setAttribute("viewBox", `${view.x} ${view.y} ${wide} ${high}`);
    axis.setAttribute("transform", `translate(0 ${Math.max(0, view.y - AXIS_TOP)})`);
  };
  const fit = (whole) => {
    const across = canvas.clientWidth / fullWide, down = canvas.clientHeight / fullHigh;
    view.scale = whole ? Math.min(across, down) : across;
    view.x = view.y = 0;
    show();
  };
  const zoom = (factor, x = canvas.clientWidth / 2, y = canvas.clientHeight / 2) => {
    const scale = Math.min(Math.max(view.scale * factor, 0.05), 12);
    view.x += x / view.scale - x / scale;
    view.y += y / view.scale - y / scale;
    view.scale = scale;
    show();
  };
  const intoSight = (link) => {
    const box = link.getBBox(), margin = 50 / view.scale;
    const wide = canvas.clientWidth / view.scale, high = canvas.clientHeight / view.scale;
    if (box.x < view.x + margin) view.x = box.x - margin;
    if (box.x + box.width > view.x + wide) view.x = box.x + box.width - wide + margin;
    if (box.y < view.y + 2 * margin) view.y = box.y - 2 * margin;
    if (box.y + box.height > view.y + high) view.y = box.y + box.height - high + margin;
    show();
  };
  const linkOf = (node) => links.find((one) => one.dataset.node === node);
  const open = (link, goThere) => {
    hint.hidden = true;
    sections.forEach((one) => { one.hidden = one.id !== `about-${link.dataset.node}`; });
    links.forEach((one) => one.removeAttribute("aria-current"));
    link.setAttribute("aria-current", "true");
    way.replaceChildren();
    for (let at = link; at && at.dataset.parent; at = linkOf(at.dataset.parent)) {
      const edge = `${at.dataset.parent} ${at.dataset.node}`;
      const step = svg.querySelector(`path[data-edge="${edge}"]`).cloneNode();
      step.setAttribute("d", step.dataset.whole);
      way.append(step);
    }
    const section = sections.find((one) => !one.hidden);
    section.parentElement.scrollTop = 0;
    if (goThere) section.focus({ preventScroll: false });
  };

  let grip = null, moved = false;
  canvas.addEventListener("pointerdown", (event) => {
    grip = { x: event.clientX, y: event.clientY };
    moved = false;
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!grip) return;
    const dx = event.clientX - grip.x, dy = event.clientY - grip.y;
    if (!moved && Math.hypot(dx, dy) < 4) return;
    if (!moved) canvas.setPointerCapture(event.pointerId);
    moved = true;
    view.x -= dx / view.scale;
    view.y -= dy / view.scale;
    grip = { x: event.clientX, y: event.clientY };
    show();
  });
  ["pointerup", "pointercancel"].forEach((name) => canvas.addEventListener(name, () => { grip = null; }));
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    if (event.ctrlKey || event.metaKey) {
      const box = canvas.getBoundingClientRect();
      zoom(Math.exp(-event.deltaY / 300), event.clientX - box.x, event.clientY - box.y);
    } else {
      view.x += event.deltaX / view.scale;
      view.y += event.deltaY / view.scale;
      show();
    }
  }, { passive: false });
  canvas.addEventListener("dragstart", (event) => event.preventDefault());

  links.forEach((link, row) => {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      // A click that ends a drag is none; one made by the keyboard has no detail.
      if (!moved || event.detail === 0) open(link, event.detail === 0);
      moved = false;
    });
    // Under the hand the picture stays where it is, or the click would miss.
    link.addEventListener("focus", () => { if (link.matches(":focus-visible")) intoSight(link); });
    link.addEventListener("keydown", (event) => {
      const children = links.filter((one) => one.dataset.parent === link.dataset.node);
      const next = {
        ArrowDown: links[row + 1], ArrowUp: links[row - 1],
        ArrowLeft: linkOf(link.dataset.parent), ArrowRight: children[0],
      }[event.key];
      if (event.key.startsWith("Arrow")) {
        event.preventDefault();
        event.stopPropagation();
        if (next) next.focus({ preventScroll: true });
      } else if (event.key === " ") {
        event.preventDefault();
        open(link, true);
      }
    });
  });
  sections.forEach((section) => section.addEventListener("keydown", (event) => {
    if (event.key === "Escape") linkOf(section.id.slice("about-".length)).focus({ preventScroll: true });
  }));
  const acts = { in: () => zoom(1.25), out: () => zoom(0.8), width: () => fit(false), all: () => fit(true) };
  document.querySelectorAll("[data-do]").forEach((button) => {
    button.addEventListener("click", () => acts[button.dataset.do]());
  });
  canvas.addEventListener("keydown", (event) => {
    const step = 60 / view.scale;
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "+" || event.key === "=") zoom(1.25);
    else if (event.key === "-") zoom(0.8);
    else if (event.key === "0") fit(false);
    else if (event.key === "ArrowDown") view.y += step;
    else if (event.key === "ArrowUp") view.y -= step;
    else if (event.key === "ArrowRight") view.x += step;
    else if (event.key === "ArrowLeft") view.x -= step;
    else return;
    event.preventDefault();
    show();
  });
  // Focus may scroll what overflows; the view alone says what is seen.
  canvas.addEventListener("scroll", () => { canvas.scrollTop = canvas.scrollLeft = 0; });
  addEventListener("resize", show);
  addEventListener("beforeprint", () => {
    svg.setAttribute("viewBox", `0 0 ${fullWide} ${fullHigh}`);
    axis.removeAttribute("transform");
  });
  addEventListener("afterprint", show);
  fit(false);
  const asked = linkOf(location.hash.slice("#about-".length));
  if (asked) open(asked, true);
})();
