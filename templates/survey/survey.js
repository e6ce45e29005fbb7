// Saves a choice as it is made, goes on without loading anew, and keeps answers while there is no connection.
// Everything here can be done without it, by the buttons and links of the pages.
"use strict";
(() => {
  const QUEUE = "gaugebox-waiting", TYPED = "gaugebox-typed:";
  const MOST_PICTURE_BYTES = 40 * 1024 * 1024, PAUSES_S = [1, 2, 5, 10, 30], SCRIPT = { "X-Survey-Script": "yes" };
  const words = document.getElementById("words").dataset;
  let tries = 0, timer = 0, echoing = 0, watching = 0, sending = false, lastPress = -400, kept = {}, unkept = [];
  let canKeep = true, pictures = [];

  // --- what waits -----------------------------------------------------------------------------------------

  const waiting = () => {
    try { return JSON.parse(localStorage.getItem(QUEUE)) || []; } catch { return unkept; }
  };
  const keep = (entries) => {
    try { localStorage.setItem(QUEUE, JSON.stringify(entries)); } catch { unkept = entries; canKeep = false; }
  };
  const valueOf = (entry, name) => (entry.fields.find(([key]) => key === name) || ["", ""])[1];
  const placeOf = (entry) => valueOf(entry, "where") + "?" + valueOf(entry, "name");
  const random = () => Array.from(crypto.getRandomValues(new Uint32Array(3)), (n) => n.toString(36)).join("");

  function wait(form, action, way) {
    const fields = [...new FormData(form)].filter(([key]) => key !== "do");
    if (way) fields.push(["way", way]);
    return keepEntry({ id: random(), fields: [...fields, ["do", action]], told: told(form) });
  }

  function keepEntry(entry) {
    const entries = waiting();
    const older = entries.findIndex((other, at) => placeOf(other) === placeOf(entry) && !(sending && at === 0));
    if (older >= 0) {
      // the later answer takes the place of the one that waits, and holds to what that one saw
      entry.fields = entry.fields.map(([key, value]) => [key, key === "seen" ? valueOf(entries[older], "seen") : value]);
      entries.splice(older, 1);
    }
    keep([...entries, entry]);
    return entry;
  }

  function told(form) {
    const chosen = [...form.querySelectorAll("input:checked")].map((one) => one.closest("label").innerText.split("\n")[0]);
    const typed = [...form.querySelectorAll("input[type=text], input[type=date], textarea, select")].map((one) => one.value);
    return { label: document.getElementById("asked").innerText, value: [...chosen, ...typed].filter(Boolean).join(", ") };
  }

  // --- sending --------------------------------------------------------------------------------------------

  // in order, one at a time; only a reply proves a connection
  async function send() {
    if (sending) return;
    clearTimeout(timer);
    sending = true;
    let page = null;
    try {
      for (let entry = waiting()[0]; entry; entry = waiting()[0]) {
        show("saving");
        const response = await post(entry.to || "/answer", entry.fields);
        page = await pageOf(response);
        tries = 0;
        if (response.status === 403) { show("entry"); return; }
        const rest = waiting().filter((other) => other.id !== entry.id);
        keep(rest.map((other) => placeOf(other) === placeOf(entry) ? seeing(other, page) : other));
        if (entry.to) { elsewhere(page, entry, response.status); if (response.status < 400) continue; show("typed"); return; }
        if (response.status >= 400) { settled(page, entry, true); return; }
        if (!rest.length) settled(page, entry, false);
      }
      if (await sendPictures()) show("saved");
    } catch (error) {
      if (!(error instanceof TypeError)) throw error;
      show("lost");
      timer = setTimeout(send, 1000 * PAUSES_S[Math.min(tries++, PAUSES_S.length - 1)]);
    } finally {
      sending = false;
    }
  }

  // photographs go after the answers, in the order in which they were taken; false where nobody is let in
  async function sendPictures() {
    await look();
    for (const one of pictures.filter((other) => !other.refused)) {
      show("saving");
      const response = await sent(one, "yes");
      const page = await pageOf(response);
      tries = 0;
      if (response.status === 403) { show("entry"); return false; }
      if (response.ok) await keptPictures.drop(one.at);
      else await keptPictures.put({ ...one, refused: whyNot(page) });
      await look();
      if (response.ok) await listAnew(page);
    }
    return true;
  }

  async function look() {
    try { pictures = await keptPictures.all(); } catch { pictures = []; }
  }

  function sent(picture, waited = "") {
    const body = new FormData();
    body.append("where", picture.where);
    body.append("shows", picture.shows);
    body.append("waited", waited);
    body.append("chosen", picture.file, picture.file.name);
    return fetch("/photograph/add", { method: "POST", headers: SCRIPT, body, signal: AbortSignal.timeout(300000) })
      .catch((error) => { throw new TypeError(String(error)); });
  }

  const whyNot = (page) => (page.querySelector(".refused") || page.querySelector("main") || page.body).textContent.replace(/\s+/g, " ").trim();

  // the photographs of the wall that is shown, once one of those that waited was sent
  async function listAnew(page) {
    refresh(page);
    const list = document.querySelector("#photographs .photographs");
    if (!list) return;
    const anew = await pageOf(await fetch(location.pathname, { headers: SCRIPT }).catch((error) => { throw new TypeError(String(error)); }));
    const found = anew.querySelector("#photographs .photographs");
    if (found && document.contains(list)) list.replaceWith(document.adoptNode(found));
  }

  function seeing(entry, page) {
    const seen = page.querySelector(entry.to ? "#marks input[name=seen]" : "input[name=seen]");
    return { ...entry, fields: entry.fields.map(([key, value]) => [key, key === "seen" && seen ? seen.value : value]) };
  }

  const post = (address, fields) => fetch(address, {
    method: "POST", headers: SCRIPT, body: new URLSearchParams(fields), signal: AbortSignal.timeout(30000),
  }).catch((error) => { throw new TypeError(String(error)); });
  const pageOf = async (response) => new DOMParser().parseFromString(await response.text(), "text/html");

  // --- what is shown --------------------------------------------------------------------------------------

  function show(state) {
    const refused = pictures.filter((one) => one.refused).length, line = document.getElementById("connection");
    const count = waiting().length + pictures.length - refused;
    document.body.classList.toggle("lost", state === "lost");
    if (!line) return;
    if ((state === "lost" && count) || (state === "saved" && refused)) {
      const button = document.createElement("button");
      button.textContent = state === "lost" ? words.lost.replace("#", count) : words.refused.replace("#", refused);
      button.className = "quiet";
      button.addEventListener("click", showWaiting);
      line.replaceChildren(button);
    } else {
      line.textContent = canKeep ? words[state === "lost" ? "gone" : state] || words.saved : words.unkept;
    }
  }

  // after an answer: the page it led to, where nobody has gone on meanwhile; a refusal and a question back always
  function settled(page, entry, asks) {
    const form = document.querySelector("form[action='/answer']");
    const here = form && placeOf({ fields: [...new FormData(form)] }) === placeOf(entry);
    if (here || asks) swap(page, { focus: asks });
    else refresh(page);
    forget(entry);
  }

  // what a page of its own keeps and shows: told to it; what it cannot settle is shown as a page
  function elsewhere(page, entry, status) {
    const there = document.querySelector("#marking");
    const here = there && there.dataset.key === valueOf(entry, "where");
    if (status < 400) refresh(page);
    if (status < 400 || (here && status === 422)) document.dispatchEvent(new CustomEvent("survey:sent", { detail: { key: valueOf(entry, "where"), status, page } }));
    else swap(page, { focus: true });
  }

  document.addEventListener("survey:keep", (event) => {
    keepEntry({ id: random(), ...event.detail });
    send();
  });

  function swap(page, { focus = false } = {}) {
    const held = document.activeElement, name = held && held.name, value = held && held.value, type = held && held.type;
    const scrolled = ["sheets", "decided"].map((kind) => [kind, (document.querySelector("." + kind) || {}).scrollTop || 0]);
    const opened = document.querySelector(".how[open]");
    for (const part of [".bar", ".columns"]) {
      const now = document.querySelector(part), next = page.querySelector(part);
      if (!next) { document.open(); document.write(page.documentElement.outerHTML); document.close(); return; }
      now.replaceWith(document.adoptNode(next));
    }
    document.title = page.title;
    document.body.className = page.body.className;
    document.body.classList.add("scripted");
    for (const [kind, top] of scrolled) { const box = document.querySelector("." + kind); if (box) box.scrollTop = top; }
    if (opened) { const how = document.querySelector(".how"); if (how) how.open = true; }
    if (focus) document.getElementById("main").focus({ preventScroll: true });
    else if (name && type !== "submit") again(name, value, type);
    else if (type === "submit") { const next = document.querySelector(".foot .next"); if (next) next.focus({ preventScroll: true }); }
    ready();
  }

  function again(name, value, type) {
    const same = [...document.querySelectorAll("#question [name]")].filter((one) => one.name === name);
    const found = type === "radio" || type === "checkbox" ? same.find((one) => one.value === value) : same[0];
    if (found) found.focus({ preventScroll: true });
  }

  // only what tells of the job: a question that somebody is at stays as it is
  function refresh(page) {
    for (const part of [".sheets", ".decided", ".state"]) {
      const now = document.querySelector(part), next = page.querySelector(part);
      if (now && next) now.replaceWith(document.adoptNode(next));
    }
  }

  async function go(address, push = true) {
    const [path, anchor] = address.split("#");
    try {
      const response = await fetch(path, { headers: SCRIPT, signal: AbortSignal.timeout(30000) });
      swap(await pageOf(response));
    } catch {
      if (!kept[path]) { show("lost"); return; }
      document.getElementById("main").innerHTML = kept[path];
      document.body.className = (path.startsWith("/ask/") ? "asking" : path === "/" ? "overview" : "sheet") + " scripted";
      ready();
      show("lost");
    }
    if (push) history.pushState({}, "", address);
    const target = anchor && document.getElementById(anchor);
    document.getElementById("main").focus({ preventScroll: true });
    if (target) target.scrollIntoView(); else scrollTo(0, 0);
  }

  function showWaiting() {
    const main = document.getElementById("main"), before = [...main.childNodes];
    main.replaceChildren(document.getElementById("waiting").content.cloneNode(true));
    const list = main.querySelector(".waiting");
    for (const entry of waiting()) {
      const item = document.createElement("li"), value = document.createElement("strong");
      value.textContent = entry.told.value;
      item.append(entry.told.label + ": ", value);
      list.append(item);
    }
    for (const one of pictures) list.append(pictureItem(one));
    main.querySelector("h1").focus();
    main.addEventListener("click", function pressed(event) {
      const deed = event.target.dataset && event.target.dataset.do;
      if (deed === "try") { tries = 0; tryPictures().then(send); }
      if (deed === "drop") { event.target.closest("li").remove(); keptPictures.drop(Number(event.target.dataset.at)).then(look).then(() => show(waiting().length + pictures.length ? "lost" : "saved")); }
      if (deed === "keep") keepAsFile();
      if (deed === "close") { main.replaceChildren(...before); main.removeEventListener("click", pressed); }
    });
  }

  function pictureItem(one) {
    const item = document.createElement("li"), value = document.createElement("strong"), out = document.createElement("button");
    value.textContent = one.shows;
    out.textContent = words.out;
    out.className = "quiet";
    Object.assign(out.dataset, { do: "drop", at: one.at });
    item.append(words.photograph + ": ", value, one.refused ? ". " + one.refused + " " : " ", out);
    return item;
  }

  async function tryPictures() {
    for (const one of pictures.filter((other) => other.refused)) await keptPictures.put({ ...one, refused: "" });
  }

  function keepAsFile() {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([JSON.stringify(waiting(), null, 1)], { type: "application/json" }));
    link.download = "answers-that-wait.json";
    link.click();
  }

  // --- what is typed and not kept -------------------------------------------------------------------------

  const typedKey = (form) => TYPED + placeOf({ fields: [...new FormData(form)] });
  const isText = (field) => field.matches("input[type=text], input[type=date], textarea");

  function note(form) {
    const texts = [...form.querySelectorAll("input, textarea")].filter(isText).map((one) => [one.name, one.value]);
    try { sessionStorage.setItem(typedKey(form), JSON.stringify(texts)); } catch { /* it stays in the field alone */ }
  }

  function forget(entry) {
    try { sessionStorage.removeItem(TYPED + placeOf(entry)); } catch { /* nothing was kept */ }
  }

  function restore(form) {
    const entry = waiting().find((one) => placeOf(one) === placeOf({ fields: [...new FormData(form)] }));
    if (entry) fill(form, entry.fields);
    let typed = null;
    try { typed = JSON.parse(sessionStorage.getItem(typedKey(form))); } catch { /* nothing was kept */ }
    if (!typed || form.querySelector("#why-not")) return;
    if (typed.every(([name, value]) => (form.elements[name] || {}).value === value)) return;
    fill(form, typed);
    document.getElementById("strip").textContent = words.typed;
  }

  function fill(form, fields) {
    const values = new Map();
    form.dataset.given = "yes";
    for (const [name, value] of fields) values.set(name, [...(values.get(name) || []), value]);
    for (const field of form.querySelectorAll("#question input, #question textarea, #question select")) {
      if (field.type === "hidden" || !values.has(field.name)) continue;
      if (field.type === "radio" || field.type === "checkbox") field.checked = values.get(field.name).includes(field.value);
      else field.value = values.get(field.name)[0];
    }
  }

  // --- what is done ---------------------------------------------------------------------------------------

  function answer(form, action, way = "") {
    const goes = action === "next" ? form.elements.next.value : "";
    const touched = form.dataset.touched === "yes" || form.querySelector("#why-not") || waiting().some(
      (one) => placeOf(one) === placeOf({ fields: [...new FormData(form)] }));
    if (goes && !touched) { go(goes); return; }
    const entry = wait(form, action === "next" ? "save" : action, way);
    form.dataset.touched = "";
    forget(entry);
    show("saving");
    const sent = send();
    if (goes) sent.then(() => { if (document.contains(form) || !document.querySelector("#why-not, body.two")) onward(entry, goes); });
  }

  function onward(entry, goes) {
    const asks = document.getElementById("why-not") || document.body.classList.contains("two");
    if (!asks) go(goes);
  }

  // a picture goes at once; where there is no connection, or others wait, it waits behind them
  async function upload(form) {
    const told = form.querySelector(".unsent"), fields = new FormData(form);
    const file = [...fields.values()].find((one) => one instanceof File && one.name);
    const shows = fields.get("shows").trim(), picture = { where: fields.get("where"), shows, file, refused: "" };
    told.textContent = !file ? words.file : !shows ? words.shows : file.size > MOST_PICTURE_BYTES ? words.large : "";
    if (told.textContent) return;
    show("saving");
    try {
      if (waiting().length || pictures.length) throw new TypeError("others wait");
      const response = await sent(picture);
      swap(await pageOf(response), { focus: true });
      if (response.redirected) history.pushState({}, "", new URL(response.url).pathname);
      scrollTo(0, 0);
      show("saved");
    } catch (error) {
      if (!(error instanceof TypeError)) throw error;
      await waitPicture(form, picture, told);
    }
  }

  async function waitPicture(form, picture, told) {
    try {
      await keptPictures.put(picture);
    } catch {
      told.textContent = words.room;
      show("lost");
      return;
    }
    form.reset();
    told.textContent = words.waits;
    await look();
    show("lost");
    send();
  }

  async function deed(form, submitter) {
    if (form.enctype === "multipart/form-data") { upload(form); return; }
    const fields = [...new FormData(form)];
    if (submitter && submitter.name) fields.push([submitter.name, submitter.value]);
    const address = form.getAttribute("action"), entries = waiting();
    if (address === "/undo" && entries.length) { keep(entries.slice(0, -1)); show(entries.length > 1 ? "lost" : "saved"); return; }
    try {
      const response = await post(address, fields);
      const to = new URL(response.url), elsewhere = response.redirected && to.pathname !== location.pathname;
      swap(await pageOf(response), { focus: elsewhere });
      if (response.redirected) history.pushState({}, "", to.pathname + to.hash);
      // what became of it stands at the top where it led to another page, was refused, or is being made
      if (elsewhere || document.querySelector("main > .refused, main > [data-watch]")) scrollTo(0, 0);
      show("saved");
    } catch { show("lost"); }
  }

  document.addEventListener("submit", (event) => {
    const form = event.target, button = event.submitter;
    if (form.method !== "post") return;
    event.preventDefault();
    // a second press within this time is none: a wet screen doubles them
    if (event.timeStamp - lastPress < 400) return;
    lastPress = event.timeStamp;
    if (form.getAttribute("action") === "/answer" && form.dataset.kind) {
      if (button && button.name === "way") answer(form, "save", button.value);
      else answer(form, (button && button.value) || "next");
    }
    else deed(form, button);
  });

  document.addEventListener("change", (event) => {
    const form = event.target.form;
    if (!form || !form.dataset.kind) return;
    form.dataset.touched = form.dataset.given = "yes";
    if (event.target.type === "radio" || (event.target.name === "unknown" && event.target.checked)) answer(form, "save");
    else if (event.target.type === "checkbox") alone(form, event.target);
    else note(form);
  });

  // one of several that leaves no room for others takes their ticks away, and they take its
  function alone(form, ticked) {
    const whole = (one) => one.value === "none-of-them" || one.value === "not known";
    for (const one of form.querySelectorAll("input[type=checkbox][name=answer]")) {
      if (one !== ticked && ticked.checked && (whole(ticked) || whole(one))) one.checked = false;
    }
    if (form.querySelector("input[name=answer]:checked")) answer(form, "save");
  }

  document.addEventListener("input", (event) => {
    const form = event.target.form;
    if (!form || !form.dataset.kind || !isText(event.target)) return;
    form.dataset.touched = form.dataset.given = "yes";
    const unknown = form.elements.unknown;
    if (unknown && unknown.type === "checkbox" && event.target.value) unknown.checked = false;
    note(form);
    clearTimeout(echoing);
    echoing = setTimeout(echo, 400, form);
  });

  // what is understood of what is being typed, once somebody pauses
  async function echo(form) {
    const line = document.getElementById("echo");
    if (!line || !document.contains(form)) return;
    try {
      const response = await fetch("/understood?" + new URLSearchParams([...new FormData(form)]), { headers: SCRIPT });
      if (response.ok && document.contains(line)) line.textContent = await response.text();
    } catch { line.textContent = ""; }
  }

  document.addEventListener("click", (event) => {
    const link = event.target.closest && event.target.closest("a[href^='/']");
    if (!link || link.hasAttribute("download") || event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey) return;
    if (!/^\/($|at|ask|open|papers|new|order|photograph)/.test(link.getAttribute("href"))) return;
    event.preventDefault();
    go(link.getAttribute("href"));
  });

  document.addEventListener("keydown", (event) => {
    const field = event.target.matches && event.target.matches("input[type=text], textarea, select");
    const form = document.querySelector("form[data-kind]");
    if (event.key === "Escape" && form) { form.reset(); form.dataset.touched = form.dataset.given = ""; note(form); }
    if (event.key === "Enter" && event.target.matches && event.target.matches("input[type=radio], input[type=checkbox]")) {
      event.preventDefault();
      form.requestSubmit(form.querySelector("button.next"));
    }
    if (!field && (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z") {
      const found = document.querySelector(`form[action='${event.shiftKey ? "/redo" : "/undo"}']`);
      event.preventDefault();
      if (found) deed(found); else deed(Object.assign(document.createElement("form"), { action: event.shiftKey ? "/redo" : "/undo" }));
    }
  });

  addEventListener("popstate", () => go(location.pathname + location.search + location.hash, false));
  addEventListener("online", () => { tries = 0; send(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { tries = 0; send(); } });

  // what takes minutes is followed from its page, and left to itself once somebody goes on from there
  async function watch() {
    const section = document.querySelector("[data-watch]");
    clearTimeout(watching);
    if (!section) return;
    try {
      const told = await (await fetch(section.dataset.watch, { headers: SCRIPT, signal: AbortSignal.timeout(30000) })).json();
      if (!document.contains(section)) return;
      if (told.to) { go(told.to, false); return; }
      const step = section.querySelector(".step");
      if (step.textContent !== told.step) step.textContent = told.step;
    } catch { show("lost"); }
    watching = setTimeout(watch, PAUSES_S[0] * 1000);
  }

  function ready() {
    const form = document.querySelector("form[data-kind]");
    if (form) restore(form);
    watch();
    document.dispatchEvent(new Event("survey:shown"));
  }

  async function keepPages() {
    try { kept = await (await fetch("/kept", { headers: SCRIPT })).json(); } catch { /* asked again with the next page */ }
  }

  document.body.classList.add("scripted");
  ready();
  look().then(() => { if (waiting().length || pictures.length) send(); });
  setTimeout(keepPages, 500);
})();
