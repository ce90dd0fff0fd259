"use strict";
const byId = (id) => document.getElementById(id);
const isLooking = document.body.dataset.role === "look";
const asked = byId("asked");
const LOST = "Not connected: the program is not running any more, or cannot be reached. Every step is saved. " +
  "Start it again, and this page goes on by itself.";
const NOT_LET_IN = "This page is not let in any more. Open the address that the program prints.";
const PATIENCE = 20000; // milliseconds for a press to be done
let now = null;      // what is shown
let isLost = true;   // presses go nowhere
let isBusy = false;  // a press is on its way

// Elements are made here, and text is only ever text: nothing of a piece is read as HTML.
function make(name, given = {}, ...inside) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(given)) {
    if (value === null || value === undefined || value === false) continue;
    if (key === "press") made.addEventListener("click", value);
    else if (key === "key") made.dataset.key = value;
    else made.setAttribute(key, value === true ? "" : value);
  }
  made.append(...inside.filter((one) => one !== null));
  return made;
}

const text = (words) => make("bdi", {}, words);

function chip(yarn) {
  const made = make("span", {class: yarn.name.length > 12 ? "chip long" : "chip"}, text(yarn.name));
  made.style.backgroundColor = yarn.colour;
  made.style.color = yarn.ink;
  return made;
}

function fill(id, words) {
  byId(id).replaceChildren(...(words ? [words] : []));
}

// What is so now.

function take(state) {
  const [name, count] = state.seen.split("-");
  if (now) {
    const [before, last] = now.seen.split("-");
    if (name === before && !state.over && Number(count) <= Number(last)) {
      if (isLost && count === last) connect(true, ""); // the same program is reached again
      return;
    }
  }
  const is_new = !now || now.seen !== state.seen;
  now = state;
  if (state.over) {
    connect(false, state.over + " Start it again, and this page goes on by itself.");
    return;
  }
  connect(true, state.work ? "" : "Something is asked before the piece is opened.");
  showWork(state.work);
  if (!isLooking) showAsked(state.asked);
  if (is_new && state.work && !(state.asked && !isLooking)) say(state.work);
}

function connect(is, words) {
  isLost = !is;
  const line = byId("state");
  if (line.textContent !== words) line.textContent = words;
  line.classList.toggle("lost", isLost);
  for (const id of ["back", "whole", "on", "more"]) {
    const button = now && now.work ? now.work.buttons[{whole: "row"}[id] || id] : null;
    byId(id).disabled = isLost || (button ? !button.can : false);
  }
  for (const button of asked.querySelectorAll("button, input")) button.disabled = isLost;
}

let heard = "";
function say(work) {
  if (work.heard !== heard) byId("said").replaceChildren(work.heard);
  heard = work.heard;
}

function showWork(work) {
  document.querySelector("main").hidden = !work;
  document.querySelector("footer").hidden = !work || isLooking;
  if (!work) return;
  document.title = work.title;
  byId("title").replaceChildren(text(work.title), work.look_only ? ` (${work.look_only})` : "");
  fill("row", work.row);
  fill("side", work.side);
  fill("side-in-words", work.side_in_words);
  byId("acts").replaceChildren(...work.acts.map(act));
  byId("acts").classList.toggle("row", work.is_row);
  fill("sentence", work.sentence);
  byId("notices").replaceChildren(...work.notices.map((one) => make("li", {}, one)));
  fill("facts", work.facts.join(" · "));
  fill("rule", work.rule);
  byId("runs").replaceChildren(...work.runs.map(run));
  fill("end", work.end.join(" "));
  byId("end").classList.toggle("turn", work.is_turn);
  byId("strands").replaceChildren(...work.strands.map((one) => make("li", {}, one)));
  byId("strands").parentElement.hidden = !work.strands.length;
  fill("back", work.buttons.back.title);
  fill("whole", work.buttons.row.title);
  byId("on").replaceChildren(work.buttons.on.title, ...(work.on ? [make("small", {}, work.on)] : []));
  showChart(work.chart, work.title);
}

function act(one) {
  const made = make("div", {class: one.is_main ? (one.stitches ? "act main" : "act main words") : "act"});
  if (one.stitches) made.append(make("span", {class: "count"}, String(one.stitches)));
  if (one.text) made.append(make("span", {class: "verb"}, one.text));
  made.append(...one.yarns.map(chip));
  return made;
}

function run(one) {
  const mark = {done: "✓", now: "▶"}[one.state] || "";
  const made = make("li", {class: one.state, "aria-current": one.state === "now" ? "step" : null},
    make("span", {class: "mark"}, mark), make("span", {}, one.work), chip(one.yarn));
  if (one.change) made.append(make("span", {class: "change"}, one.change));
  return made;
}

// The chart: a picture that is fetched once, and over it the row and the run that are worked.

let place = null;
function showChart(chart, title) {
  place = chart;
  byId("chart").hidden = !chart;
  if (!chart) return;
  const picture = byId("picture"), source = `/chart?part=${chart.part}&of=${now.drawn}`;
  picture.alt = `Chart of ${title}`;
  if (picture.getAttribute("src") !== source) picture.setAttribute("src", source);
  for (const [id, across] of [["row-here", chart.row], ["run-here", chart.run]]) {
    byId(id).hidden = !across;
    if (!across) continue;
    Object.assign(byId(id).style, {
      top: `${100 * chart.top}%`, height: `${100 * chart.height}%`,
      left: `${100 * across.left}%`, width: `${100 * across.width}%`,
    });
  }
  setChart();
}

function setChart() {
  if (!place) return;
  const frame = byId("chart"), least = (isLooking ? 16 : 10) / place.stitch, most = 56 / place.stitch;
  const wide = Math.min(most, Math.max(least, frame.clientWidth));
  byId("drawn").style.width = `${wide}px`;
  byId("drawn").style.height = `${wide / place.ratio}px`;
  const across = place.run || place.row, high = wide / place.ratio;
  frame.scrollTop = (place.top + place.height / 2) * high - frame.clientHeight / 2;
  frame.scrollLeft = (across.left + across.width / 2) * wide - frame.clientWidth / 2;
}

new ResizeObserver(setChart).observe(byId("chart"));

// What is asked over it.

function showAsked(one) {
  const key = asked.contains(document.activeElement) ? document.activeElement.dataset.key : "";
  const field = asked.querySelector("input"), typed = field && key === "field" ? field.value : null;
  if (!one) {
    if (asked.open) asked.close();
    asked.replaceChildren();
    return;
  }
  const top = asked.scrollTop, was = asked.dataset.kind;
  asked.dataset.kind = one.kind;
  asked.replaceChildren(make("div", {id: "asked-text"}, ...one.text.map((line) => make("p", {}, line))), ...parts(one));
  if (!asked.open) asked.showModal();
  const again = key && [...asked.querySelectorAll("[data-key]")].find((part) => part.dataset.key === key);
  (again || asked.querySelector("input, [aria-current] button, button")).focus();
  if (typed !== null && was === one.kind && asked.querySelector("input")) asked.querySelector("input").value = typed;
  if (again) asked.scrollTop = top;
}

const button = (key, words, press) => make("button", {type: "button", key, press}, words);
const answering = (answer) => () => press({answer});
const foot = (...buttons) => make("div", {class: "foot"}, ...buttons);
const deeds = (one) => one.deeds.map((deed) =>
  button(deed.name, deed.title, ["leave", "leave_it"].includes(deed.name) ? leave : () => press({deed: deed.name})));

function parts(one) {
  switch (one.kind) {
    case "yes or no":
      return [foot(button("no", sentence(one.no), answering(false)), button("yes", sentence(one.yes), answering(true)))];
    case "choice": {
      const lines = one.lines.map((line, at) => make("button", {type: "button", class: "text", key: at, press: answering(at)}, line));
      return [make("div", {class: "lines"}, ...lines), foot(button("leave", "Leave it", leave))];
    }
    case "words":
      return words(one);
    case "reading":
      return [...one.lines.map((line) => make("p", {}, line)), foot(button("leave", "Put away", leave))];
    case "marking":
      return [make("div", {class: "foot"}, ...deeds(one))];
    default:
      return [make("div", {class: "lines"}, ...one.lines.flatMap((line) => listed(one, line))), foot(...deeds(one))];
  }
}

function sentence(words) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function words(one) {
  const field = make("input", {type: "text", key: "field", inputmode: one.is_number ? "numeric" : null, autocomplete: "off",
    "aria-labelledby": "asked-text", maxlength: 500});
  field.value = one.answer;
  const form = make("form", {}, field);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    press({answer: field.value});
  });
  const offered = one.offered.map((offer) => button(offer.word, offer.meaning ? `${offer.word}: ${offer.meaning}` : offer.word, () => {
    field.value = [field.value.trim(), offer.word].filter(Boolean).join(", ");
    field.focus();
  }));
  form.append(foot(...offered), foot(button("leave", "Leave it", leave), make("button", {type: "submit", key: "answer"}, "Answer")));
  return [form];
}

function listed(one, line) {
  if (line.heading !== undefined) return line.heading ? [make("h2", {}, line.heading)] : [];
  const is_meant = line.at === one.at, swatch = line.colour ? make("span", {class: "swatch"}) : null;
  if (swatch) swatch.style.backgroundColor = line.colour;
  const choose = () => press({deed: "choose", at: line.at});
  const told = make("button", {type: "button", class: "text", key: `line ${line.at}`,
    press: one.is_ticked ? () => press({at: line.at}) : choose}, swatch, make("span", {}, line.text));
  const made = make("div", {class: "line", "aria-current": is_meant ? "true" : null}, told);
  if (one.is_ticked) made.append(button(`tick ${line.at}`, one.choose, choose));
  const about = is_meant ? one.about.map((words) => make("p", {class: "about"}, words)) : [];
  return [made, ...about];
}

function leave() {
  press({answer: now.asked.kind === "yes or no" ? false : null});
}

// Browsers close a dialog by themselves with a second Escape, or going back: then, too, what is asked is left.
asked.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  event.preventDefault();
  if (!event.repeat) leave();
});
asked.addEventListener("close", () => {
  if (!now.asked || asked.open) return;
  if (isBusy || isLost) asked.showModal();
  else leave();
});

// Presses. Each names what was seen; one at a time; a key that is held counts once.

async function press(what) {
  if (isLooking || isBusy || isLost) return;
  isBusy = true;
  keepAwake();
  try {
    const reply = await fetch("/press", {
      method: "POST", headers: {"Content-Type": "application/json"}, body: JSON.stringify({seen: now.seen, ...what}),
      signal: AbortSignal.timeout(PATIENCE),
    });
    if (reply.ok || reply.status === 409) {
      take(await reply.json());
      if (reply.status === 409) byId("state").textContent = "Another page was quicker: nothing was done with that press. This is what is so now.";
    } else {
      refused(await reply.text());
    }
  } catch {
    connect(false, LOST);
    listen();
  } finally {
    isBusy = false;
  }
}

function refused(why) {
  if (!asked.open) {
    byId("state").textContent = why.trim();
    return;
  }
  asked.querySelectorAll(".wrong").forEach((one) => one.remove());
  byId("asked-text").append(make("p", {class: "wrong", role: "alert"}, why.trim()));
}

addEventListener("keydown", (event) => {
  const is_press = event.key === " " || event.key === "Enter";
  if (event.repeat && !(event.target instanceof HTMLInputElement)) {
    if (is_press || (now && now.keys[event.key])) event.preventDefault();
    return;
  }
  if (event.ctrlKey || event.altKey || event.metaKey || !now || isLooking) return;
  if (event.target instanceof HTMLInputElement || asked.open) return;
  if (is_press && event.target.closest("button, a, summary")) return;
  const deed = now.keys[event.key];
  if (!deed || !now.work) return;
  event.preventDefault();
  press({deed});
});

// What was tapped does not keep the keys: the next space is On again.
addEventListener("click", (event) => {
  const button = event.target.closest("footer button, header button, summary");
  if (button && event.detail > 0) button.blur();
});

byId("on").addEventListener("click", () => press({deed: "on"}));
byId("back").addEventListener("click", () => press({deed: "back"}));
byId("whole").addEventListener("click", () => press({deed: "row"}));
byId("more").addEventListener("click", () => press({deed: "help"}));

// The screen stays on where the browser lets it: on this computer, and not over plain http from another.

let awake = null;
async function keepAwake() {
  if (awake || !navigator.wakeLock) return;
  try {
    awake = await navigator.wakeLock.request("screen");
    awake.addEventListener("release", () => { awake = null; });
  } catch {
    awake = null;
  }
}

// News, until the page is closed; where they stop, they are asked for again.

let news = null;
function listen() {
  if (news) news.close();
  news = new EventSource("/news");
  news.addEventListener("message", (event) => take(JSON.parse(event.data)));
  news.addEventListener("error", () => {
    const is_refused = news.readyState === EventSource.CLOSED;
    if (is_refused) setTimeout(listen, 2000);
    if (now && now.over) isLost = true;
    else connect(false, is_refused ? NOT_LET_IN : LOST);
  });
}

// A tablet that slept may not know that its connection is gone.
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") listen();
});

if (location.search.includes("token=")) {
  history.replaceState(null, "", isLooking ? "/?view" : "/");
}
listen();
