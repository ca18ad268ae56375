// Live refresh, and nothing else: every page works without this script by its links and forms.
// A form with data-live="ID" is sent as it is changed, and the element of that id is replaced by
// the one of the page that comes back; the address follows, so that it can be kept.
"use strict";

const WAIT_MS = 250; // so long after the last letter a form is sent
const FOLLOW_MS = 700; // so often work that goes on is asked after

let running = null;

async function refresh(link, target, remember) {
  if (running) running.abort();
  const own = (running = new AbortController());
  const place = document.getElementById(target);
  if (place) place.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(link, { signal: own.signal, headers: { accept: "text/html" } });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = page.getElementById(target);
    if (!fresh) {
      location.assign(link); // another kind of page: a refusal, told in full
      return;
    }
    put(page, target, fresh);
    if (remember) history[remember](null, "", answer.url);
    document.title = page.title;
    follow();
  } catch (trouble) {
    if (trouble.name !== "AbortError") tell(target, "The page at the bench does not answer. Is it still running?");
  } finally {
    if (running === own) {
      running = null;
      const now = document.getElementById(target);
      if (now) now.removeAttribute("aria-busy");
    }
  }
}

function put(page, target, fresh) {
  const place = document.getElementById(target);
  const focused = place.contains(document.activeElement) ? nameOf(document.activeElement) : null;
  if (fresh.dataset.follow) place.dataset.follow = fresh.dataset.follow;
  else delete place.dataset.follow;
  const status = place.querySelector("[role=status]");
  const news = fresh.querySelector("[role=status]");
  if (status && news) {
    // The status stays the same element, so that a screen reader hears it change.
    const kept = document.importNode(fresh, true);
    const keptStatus = kept.querySelector("[role=status]");
    status.replaceChildren(...document.importNode(news, true).childNodes);
    keptStatus.replaceWith(status);
    place.replaceChildren(...kept.childNodes);
  } else {
    place.replaceChildren(...document.importNode(fresh, true).childNodes);
  }
  if (focused) {
    const again = [...place.querySelectorAll("a, button, input, select, summary")].find((one) => nameOf(one) === focused);
    if (again) again.focus();
  }
}

// What tells an element again in a page that has come anew.
function nameOf(element) {
  return element.id || element.getAttribute("href") || `${element.tagName} ${element.textContent}`;
}

function tell(target, words) {
  const place = document.getElementById(target);
  const status = place && (place.querySelector("[role=status]") || place);
  if (status) status.textContent = words;
}

function linkOf(form) {
  const fields = new URLSearchParams(new FormData(form));
  return `${form.action}?${fields}`;
}

function live(form) {
  let waiting = null;
  // A search as it is typed is one step back, a choice is one each.
  const remember = form.getAttribute("role") === "search" ? "replaceState" : "pushState";
  const send = () => {
    clearTimeout(waiting);
    refresh(linkOf(form), form.dataset.live, remember);
  };
  form.addEventListener("change", send);
  form.addEventListener("input", (event) => {
    if (event.target.matches("input[type=search], input[type=text], textarea")) {
      clearTimeout(waiting);
      waiting = setTimeout(send, WAIT_MS);
    }
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    send();
  });
}

// Work that goes on: the element asks again until it is told no longer to follow.
let following = null;

function follow() {
  const place = document.querySelector("[data-follow]");
  if (!place || following !== null) return;
  following = setTimeout(async () => {
    following = null;
    if (document.visibilityState !== "hidden") await refresh(location.href, place.dataset.follow, null);
    follow();
  }, FOLLOW_MS);
}

// What was chosen before this script had come is asked now.
function isTouched(form) {
  return [...form.elements].some((field) => {
    if (field.type === "radio" || field.type === "checkbox") return field.checked !== field.defaultChecked;
    if (field.tagName === "SELECT") {
      const first = [...field.options].find((option) => option.defaultSelected) || field.options[0];
      return first !== undefined && !first.selected;
    }
    return "defaultValue" in field && field.type !== "hidden" && field.value !== field.defaultValue;
  });
}

for (const form of document.querySelectorAll("form[data-live]")) {
  live(form);
  if (isTouched(form)) form.requestSubmit();
}
addEventListener("popstate", () => location.reload());
follow();
