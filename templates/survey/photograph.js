// Marks a photograph by finger, pen, mouse or keyboard: a frame of known size, areas, openings in them, check lengths.
// What marks come to is reckoned by the program alone; here they are drawn, kept, and sent by the script of the pages.
"use strict";
(() => {
  const SVG = "http://www.w3.org/2000/svg", DRAFT = "gaugebox-marks:";
  const REACH = 22, LENS = 120, TIMES = 8, MOST = 40, PAUSE = { save: 500, reckon: 250 };
  const SIZE = { frame: 4, check: 2 };
  const HATCHES = [45, -45, 0, 90];

  // --- one photograph ---------------------------------------------------------------------------------------

  // points are kept in pixels of the upright picture, and sent as shares of it
  function marking(root) {
    const words = root.dataset, width = Number(words.width), height = Number(words.height), key = words.key;
    const board = root.querySelector("svg.marked"), drawn = board.querySelector(".drawn"), lens = root.querySelector("svg.lens");
    const form = root.querySelector("#marks"), strip = root.querySelector("#strip"), nudges = root.querySelector(".nudges");
    const seen = form.elements.seen;
    let doc = taken(JSON.parse(words.marks)), at = null, open = false, chosen = null, picked = false;
    let past = [], future = [], saved = "", figures = new Map(), asking = 0, timers = {}, plain = false, cross = null, held = 0;
    let box = { x: 0, y: 0, w: width, h: height }, grabbed = null, pinch = null;
    const letters = new Set(doc.areas.map((area) => area.letter));

    // --- what is marked -------------------------------------------------------------------------------------

    function taken(marks) {
      const px = (points) => points.map(([x, y]) => [x * width, y * height]);
      const frame = marks.reference;
      return {
        kept: frame === "kept",
        frame: frame && frame !== "kept"
          ? { points: px(frame.corners), width: frame.width_mm || "", height: frame.height_mm || "", what: frame.what || "", distance: frame.distance_m || "", fresh: Boolean(frame.fresh) }
          : null,
        checks: marks.checks.map((check) => ({ points: px(check.points), length: check.length_mm })),
        areas: marks.marks.map((area) => ({ letter: area.letter, work: area.work, points: px(area.outline), without: (area.without || []).map(px), elsewhere: area.counted === false })),
      };
    }

    // whole things alone, in shares: what is being drawn counts once it has points enough, if it is asked for
    function sendable(withDrawn = false) {
      const share = (points) => points.map(([x, y]) => [round(x / width), round(y / height)]);
      const isDrawn = (ring) => open && ring === current() && !withDrawn;
      const frame = doc.frame && doc.frame.points.length === 4 && doc.frame.width && doc.frame.height ? doc.frame : null;
      return JSON.stringify({
        reference: doc.kept ? "kept" : frame && { corners: share(frame.points), width_mm: frame.width, height_mm: frame.height, what: frame.what, distance_m: frame.distance, ...(frame.fresh ? { fresh: true } : {}) },
        checks: doc.checks.filter((check) => check.points.length === 2 && check.length).map((check) => ({ points: share(check.points), length_mm: check.length })),
        marks: doc.areas.filter((area) => area.points.length > 2 && !isDrawn(area.points)).map((area) => ({
          letter: area.letter, work: area.work, outline: share(area.points),
          without: area.without.filter((ring) => ring.length > 2 && !isDrawn(ring)).map(share), counted: !area.elsewhere,
        })),
      });
    }

    const round = (share) => Math.round(Math.min(1, Math.max(0, share)) * 1e4) / 1e4;
    const current = () => ringOf(at);
    function ringOf(place) {
      if (!place) return null;
      if (place.kind === "frame") return doc.frame && doc.frame.points;
      if (place.kind === "check") return doc.checks[place.n] && doc.checks[place.n].points;
      const area = doc.areas[place.n];
      return area && (place.kind === "area" ? area.points : area.without[place.m]);
    }
    const rings = () => [
      ...(doc.frame ? [{ kind: "frame" }] : []),
      ...doc.checks.map((_, n) => ({ kind: "check", n })),
      ...doc.areas.flatMap((area, n) => [{ kind: "area", n }, ...area.without.map((_, m) => ({ kind: "opening", n, m }))]),
    ];
    const same = (one, other) => Boolean(one && other) && one.kind === other.kind && one.n === other.n && one.m === other.m;
    const named = (place) => place.kind === "area" ? words.area + " " + doc.areas[place.n].letter : words[place.kind];
    const full = () => current().length >= (SIZE[at.kind] || MOST);

    function nextLetter() {
      const all = Array.from({ length: 26 }, (_, n) => String.fromCharCode(65 + n));
      const letter = all.find((one) => !letters.has(one)) || "A" + all.find((one) => !letters.has("A" + one));
      letters.add(letter);
      return letter;
    }

    // --- undo -----------------------------------------------------------------------------------------------

    const snapshot = () => JSON.stringify({ doc, at, open, chosen });
    function change(deed) {
      past.push(snapshot());
      future = [];
      deed();
      changed();
    }
    function back(from, to) {
      if (!from.length) return;
      to.push(snapshot());
      ({ doc, at, open, chosen } = JSON.parse(from.pop()));
      picked = false;
      changed();
    }
    function changed() {
      draft();
      show();
      later("reckon", reckon);
      later("save", save);
    }
    const later = (name, deed) => { clearTimeout(timers[name]); timers[name] = setTimeout(deed, PAUSE[name]); };

    function draft() {
      try { localStorage.setItem(DRAFT + key, JSON.stringify({ seen: seen.value, doc, at, open, chosen, past: past.slice(-50), future })); } catch { /* kept in the page alone */ }
    }
    function restore() {
      let found = null;
      try { found = JSON.parse(localStorage.getItem(DRAFT + key)); } catch { /* nothing was kept */ }
      if (!found) return;
      if (found.seen !== seen.value) {
        // changed in another place: what stands there goes before what was not saved here
        strip.textContent = words.otherwise;
        localStorage.removeItem(DRAFT + key);
        return;
      }
      ({ doc, at, open, chosen, past, future } = found);
      doc.areas.forEach((area) => letters.add(area.letter));
    }

    // --- sent and reckoned ------------------------------------------------------------------------------------

    function save() {
      const marks = sendable();
      if (marks === saved) return;
      saved = marks;
      const fields = [["where", key], ["name", "marks"], ["seen", seen.value], ["marks", marks], ["do", "save"]];
      document.dispatchEvent(new CustomEvent("survey:keep", { detail: { to: "/marks", fields, told: { label: key, value: document.getElementById("words").dataset.marks } } }));
    }

    function sent({ status, page }) {
      const next = page.querySelector("#marks input[name=seen]");
      if (status === 200 && next) {
        seen.value = next.value;
        draft();
        const now = root.querySelector("#figures"), then = page.querySelector("#figures");
        if (now && then) now.replaceWith(document.adoptNode(then));
      } else if (status === 422) {
        const why = page.querySelector("#why-not");
        tell(why ? why.textContent.trim().replace(/\s+/g, " ") : "");
      }
    }

    async function reckon() {
      const asked = ++asking;
      const slow = setTimeout(() => { if (asked === asking) tell(words.reckoning); }, 300);
      try {
        const body = new URLSearchParams([["where", key], ["marks", sendable(true)]]);
        const response = await fetch("/reckon", { method: "POST", headers: { "X-Survey-Script": "yes" }, body, signal: AbortSignal.timeout(30000) });
        const found = await response.json();
        if (asked !== asking || !document.contains(root)) return;
        figures = new Map(found.areas.map((area) => [area.letter, area]));
        if (found.told.length) tell(found.told.join(" "));
        else if (strip.textContent === words.reckoning || strip.textContent === words.lost) hint();
        showFigures();
      } catch {
        if (asked === asking) tell(words.lost);
      } finally { clearTimeout(slow); }
    }

    const tell = (text) => { if (strip.textContent !== text) strip.textContent = text; };

    // what is to be done next, in the strip
    function hint() {
      if (!at) return tell("");
      const ring = current(), lacks = (SIZE[at.kind] || 0) - ring.length;
      if (lacks > 0) return tell(words[at.kind === "frame" ? "corners" : "ends"].replace("#", lacks) + ". " + words.tap);
      if (at.kind === "frame" && !(doc.frame.width && doc.frame.height)) return tell(words.sizes);
      if (at.kind === "check" && !doc.checks[at.n].length) return tell(words.length);
      tell(open ? words.tap : words.move);
    }

    // --- drawing ----------------------------------------------------------------------------------------------

    const element = (name, attributes, ...inner) => {
      const made = document.createElementNS(SVG, name);
      for (const [name_, value] of Object.entries(attributes)) made.setAttribute(name_, value);
      made.append(...inner);
      return made;
    };
    const unit = () => { const matrix = board.getScreenCTM(); return matrix && matrix.a ? 1 / matrix.a : 1; };
    const path = (points, closed) => points.length ? "M" + points.map((point) => point.join(" ")).join("L") + (closed ? "Z" : "") : "";

    function show() {
      board.setAttribute("viewBox", [box.x, box.y, box.w, box.h].join(" "));
      const one = unit(), focused = document.activeElement && document.activeElement.getAttribute ? document.activeElement.getAttribute("data-point") : null;
      drawn.replaceChildren(patterns(one), ...(plain ? [] : rings().flatMap((place) => drawnRing(place, one))));
      if (cross && document.activeElement === board) drawn.append(...crossed(cross, one));
      if (focused !== null) { const again = drawn.querySelector(`[data-point="${focused}"]`); if (again) again.focus({ preventScroll: true }); }
      showLens(one);
      showPanels();
    }

    function patterns(one) {
      return element("defs", {}, ...HATCHES.map((turn, n) => element("pattern", { id: "hatch-" + n, width: 12, height: 12, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${turn}) scale(${one})` },
        element("rect", { width: 7, height: 12, fill: "#fff" }), element("rect", { x: 2, width: 3, height: 12, fill: "#000" }))));
    }

    function drawnRing(place, one) {
      const ring = ringOf(place), mine = same(place, at), closed = place.kind !== "check" && !(mine && open);
      const shape = path(ring, closed), found = [];
      if (place.kind === "area" && !mine && ring.length > 2) {
        const holes = doc.areas[place.n].without.map((hole) => path(hole, true)).join("");
        found.push(element("path", { d: shape + holes, fill: `url(#hatch-${place.n % HATCHES.length})`, "fill-rule": "evenodd" }));
      }
      found.push(element("path", { d: shape, class: "cased" }), element("path", { d: shape, class: "cored" + (place.kind === "area" ? "" : " dashed") }));
      if (mine && open && ring.length > 2) {
        const last = path([ring[ring.length - 1], ring[0]], false);
        found.push(element("path", { d: last, class: "cased" }), element("path", { d: last, class: "cored dashed" }));
      }
      if (place.kind === "area" && !mine && ring.length) found.push(labelled(place, ring, one));
      if (mine) found.push(...ring.map((point, n) => handle(point, n, place, one)));
      return found;
    }

    function labelled(place, ring, one) {
      const [x, y] = [0, 1].map((axis) => ring.reduce((sum, point) => sum + point[axis], 0) / ring.length), side = 24 * one;
      return element("g", { class: "letter" }, element("rect", { x: x - side / 2, y: y - side / 2, width: side, height: side, "stroke-width": 2 * one }),
        element("text", { x, y, "font-size": 16 * one }, doc.areas[place.n].letter));
    }

    function handle([x, y], n, place, one) {
      const side = 14 * one, shares = `${Math.round((100 * x) / width)} %, ${Math.round((100 * y) / height)} %`;
      return element("g", { class: "point" + (n === chosen ? " chosen" : ""), tabindex: 0, role: "button", "data-point": n, "aria-pressed": n === chosen, "aria-label": words.point.replace("{what}", named(place)).replace("#", n + 1) + ", " + shares },
        element("circle", { cx: x, cy: y, r: REACH * one, class: "reach" }),
        element("rect", { x: x - side / 2, y: y - side / 2, width: side, height: side, "stroke-width": 2.5 * one }));
    }

    const crossed = ([x, y], one) => [["cased", 0], ["cored", 0]].map(([kind]) => element("path", { class: kind, d: `M${x - 16 * one} ${y}H${x + 16 * one}M${x} ${y - 16 * one}V${y + 16 * one}` }));

    // the picture around a point, in the corner farthest from it
    function showLens(one) {
      const ring = current(), point = grabbed ? grabbed.point : cross && document.activeElement === board ? cross : ring && chosen !== null ? ring[chosen] : null;
      const shown = point && (grabbed || document.activeElement === board || (document.activeElement && document.activeElement.closest && document.activeElement.closest(".point, .nudges")));
      lens.toggleAttribute("hidden", !shown);
      if (!shown) return;
      const [x, y] = point, half = (LENS / TIMES / 2) * Math.max(width / board.clientWidth, height / board.clientHeight);
      lens.classList.toggle("at-right", x < box.x + box.w / 2);
      lens.classList.toggle("at-foot", y < box.y + box.h / 2);
      lens.setAttribute("viewBox", [x - half, y - half, 2 * half, 2 * half].join(" "));
      const arm = half * 0.9, gap = half * 0.12;
      const lines = `M${x - arm} ${y}H${x - gap}M${x + gap} ${y}H${x + arm}M${x} ${y - arm}V${y - gap}M${x} ${y + gap}V${y + arm}`;
      const shape = ring ? path(grabbed && grabbed.n === null ? [...ring, point] : ring.map((other, n) => grabbed && grabbed.n === n ? point : other), at.kind !== "check" && !open) : "";
      lens.replaceChildren(element("image", { href: board.querySelector("image").getAttribute("href"), width, height }),
        ...["cased", "cored"].flatMap((kind) => [element("path", { d: shape, class: kind }), element("path", { d: lines, class: kind + " fine" })]));
    }

    // --- panels -----------------------------------------------------------------------------------------------

    function showPanels() {
      const kind = at ? at.kind : "all", drawing = Boolean(at) && open;
      for (const panel of root.querySelectorAll("[data-panel]")) panel.hidden = panel.dataset.panel !== kind;
      for (const foot of root.querySelectorAll("[data-foot]")) foot.hidden = foot.dataset.foot !== (at ? (drawing ? "drawing" : "closed") : "all");
      nudges.hidden = !at || chosen === null;
      const close = root.querySelector("[data-do=close]");
      close.textContent = at && at.kind === "area" ? words.close.replace("#", doc.areas[at.n].letter) : words.done;
      root.querySelector("[data-do=opening]").hidden = !at || at.kind !== "area";
      root.querySelector("[data-do=redraw]").hidden = !at || at.kind !== "frame";
      root.querySelector("[data-do=plain]").setAttribute("aria-pressed", plain);
      const values = !at ? {} : at.kind === "frame" ? doc.frame : at.kind === "check" ? doc.checks[at.n] : doc.areas[at.n];
      for (const field of root.querySelectorAll("[data-field]")) {
        const value = values[field.dataset.field];
        if (field.type === "checkbox") field.checked = Boolean(value);
        else if (value !== undefined && field.value !== value && document.activeElement !== field) field.value = value;
      }
      hint();
      showFigures();
    }

    function showFigures() {
      const list = root.querySelector(".areas");
      if (doc.areas.length) list.replaceChildren(...doc.areas.map((area, n) => areaRow(area, n)));
      else if (!list.querySelector("li") || list.querySelector("button")) list.replaceChildren();
      if (!at || (at.kind !== "area" && at.kind !== "opening")) return;
      const area = doc.areas[at.n], found = figures.get(area.letter);
      const texts = { letter: area.letter, area: found ? found.area || words.none : "", range: ranged(found) || (doc.frame || doc.kept ? "" : words.unframed) };
      for (const place of root.querySelectorAll("[data-show]")) place.textContent = texts[place.dataset.show];
    }

    const ranged = (found) => found && found.range ? found.range + (found.estimate ? ", " + words.estimate : "") : "";

    function areaRow(area, n) {
      const row = document.createElement("li"), found = figures.get(area.letter);
      const cell = (kind, text) => { const made = document.createElement("span"); made.className = kind; made.textContent = text; return made; };
      const option = [...root.querySelectorAll("[data-field=work] option")].find((one) => one.value === area.work);
      const button = document.createElement("button");
      button.textContent = words.change;
      button.className = "quiet";
      button.append(cell("unseen", ": " + words.area + " " + area.letter));
      button.addEventListener("click", () => choose({ kind: "area", n }));
      const of = cell("of", option ? option.textContent + " " : "");
      for (const mark of option ? option.dataset.mixes.split(" ").filter(Boolean) : []) { const [ref, ground] = mark.split("/"); of.append(cell("mark " + ground, ref), " "); }
      row.append(cell("letter", area.letter), of, cell("figure-of", found ? found.area || words.none : ""), cell("range", [ranged(found), area.elsewhere ? words.elsewhere : ""].filter(Boolean).join(", ")), button);
      return row;
    }

    function choose(place) {
      at = place;
      open = false;
      chosen = null;
      picked = false;
      draft();
      show();
      board.focus({ preventScroll: true });
    }

    // --- deeds ------------------------------------------------------------------------------------------------

    const begin = (place, make) => {
      change(() => { make(); at = place; open = true; chosen = null; picked = false; });
      // its button may lie so low that the picture is under the bar, where a tap would miss it
      root.querySelector(".board").scrollIntoView({ block: "nearest" });
    };
    const deeds = {
      undo: () => back(past, future),
      redo: () => back(future, past),
      larger: () => zoom(0.6),
      smaller: () => zoom(1 / 0.6),
      plain: () => { plain = !plain; show(); },
      frame: () => {
        if (doc.kept) return tell(words.move);
        if (doc.frame && doc.frame.points.length === 4) choose({ kind: "frame" });
        else begin({ kind: "frame" }, () => { doc.frame = { points: [], width: "", height: "", what: "", distance: "", fresh: true }; });
      },
      check: () => {
        if (doc.checks.length) choose({ kind: "check", n: doc.checks.length - 1 });
        else begin({ kind: "check", n: 0 }, () => doc.checks.push({ points: [], length: "" }));
      },
      area: () => {
        const work = root.querySelector("[data-field=work]").value;
        begin({ kind: "area", n: doc.areas.length }, () => doc.areas.push({ letter: nextLetter(), work, points: [], without: [], elsewhere: false }));
      },
      opening: () => { const n = at.n; begin({ kind: "opening", n, m: doc.areas[n].without.length }, () => doc.areas[n].without.push([])); },
      drop: () => {
        if (current().length) change(() => { current().splice(chosen === null ? -1 : chosen, 1); chosen = null; });
        else remove();
      },
      close: () => {
        const count = current().length;
        if (!SIZE[at.kind] && count < 3) return tell(words.few);
        if (SIZE[at.kind] && count < SIZE[at.kind]) return hint();
        change(() => { open = false; chosen = null; });
        if (at.kind === "opening") choose({ kind: "area", n: at.n });
        else if (at.kind === "area") leave();
      },
      redraw: () => begin({ kind: "frame" }, () => { doc.frame = { ...doc.frame, points: [], fresh: true }; }),
      remove,
      done: leave,
    };

    function remove() {
      change(() => {
        if (at.kind === "frame") doc.frame = null;
        else if (at.kind === "check") doc.checks.splice(at.n, 1);
        else if (at.kind === "area") doc.areas.splice(at.n, 1);
        else doc.areas[at.n].without.splice(at.m, 1);
        at = at.kind === "opening" ? { kind: "area", n: at.n } : null;
        open = false;
        chosen = null;
      });
    }

    function leave() {
      at = null;
      open = false;
      chosen = null;
      draft();
      show();
      const first = root.querySelector("[data-foot=all] .next");
      if (document.activeElement === document.body || !document.activeElement.offsetParent) first.focus({ preventScroll: true });
    }

    function set(point) {
      const ring = current(), spot = clamped(point);
      change(() => {
        if (picked && chosen !== null) { ring[chosen] = spot; picked = false; }
        else if (open && !full()) {
          ring.push(spot);
          chosen = ring.length - 1;
          if (SIZE[at.kind] && full()) open = false;
        } else if (!SIZE[at.kind] && !open) between(ring, spot);
      });
    }

    // a new point in the nearest side of a closed outline
    function between(ring, spot) {
      const away = fromSides(spot, ring);
      const n = away.indexOf(Math.min(...away));
      if (away[n] > REACH * unit() || ring.length >= MOST) return;
      ring.splice(n + 1, 0, spot);
      chosen = n + 1;
    }
    const fromSides = (spot, ring) => ring.map((start, n) => fromSide(spot, start, ring[(n + 1) % ring.length]));
    const isNear = (spot, ring) => Math.min(...fromSides(spot, ring)) <= REACH * unit();
    function fromSide([x, y], [ax, ay], [bx, by]) {
      const length = (bx - ax) ** 2 + (by - ay) ** 2, along = length ? Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length)) : 0;
      return Math.hypot(x - ax - along * (bx - ax), y - ay - along * (by - ay));
    }
    const clamped = ([x, y]) => [Math.min(width, Math.max(0, x)), Math.min(height, Math.max(0, y))];

    function nudge(dx, dy) {
      if (!at || chosen === null || !current()[chosen]) return;
      const [x, y] = current()[chosen];
      change(() => { current()[chosen] = clamped([x + dx, y + dy]); });
    }

    function zoom(factor, centre) {
      const ring = current(), about = centre || (ring && chosen !== null && ring[chosen]) || [box.x + box.w / 2, box.y + box.h / 2];
      const w = Math.min(width, Math.max(width / 24, box.w * factor)), h = (w * height) / width;
      look(about[0] - w / 2, about[1] - h / 2, w, h);
    }
    function look(x, y, w = box.w, h = box.h) {
      box = { x: Math.min(width - w, Math.max(0, x)), y: Math.min(height - h, Math.max(0, y)), w, h };
      show();
    }

    // --- fingers ----------------------------------------------------------------------------------------------

    const fingers = new Map();
    const there = (event) => { const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(board.getScreenCTM().inverse()); return [point.x, point.y]; };
    const nearest = (ring, spot) => ring.reduce((best, point, n) => { const away = Math.hypot(point[0] - spot[0], point[1] - spot[1]); return away < best.away ? { n, away } : best; }, { n: null, away: REACH * unit() });

    board.addEventListener("pointerdown", (event) => {
      if (event.button) return;
      board.setPointerCapture(event.pointerId);
      fingers.set(event.pointerId, [event.clientX, event.clientY]);
      cross = null;
      if (fingers.size === 2) { grabbed = null; pinch = spread(); show(); return; }
      if (fingers.size > 2) return;
      const spot = there(event), ring = current(), hit = ring && !plain ? nearest(ring, spot) : { n: null };
      if (hit.n !== null) grabbed = { n: hit.n, from: spot, start: ring[hit.n], point: ring[hit.n], moved: false };
      else if (ring && ((open && !full()) || picked)) grabbed = { n: null, from: spot, start: spot, point: spot, moved: true };
      else grabbed = null, pinch = { pan: [event.clientX, event.clientY], box: { ...box }, spot, moved: false };
      showLens(unit());
    });

    board.addEventListener("pointermove", (event) => {
      if (!fingers.has(event.pointerId)) return;
      fingers.set(event.pointerId, [event.clientX, event.clientY]);
      if (fingers.size === 2 && pinch && pinch.middle) { pinched(); return; }
      if (grabbed) {
        const spot = there(event);
        grabbed.moved = grabbed.moved || Math.hypot(spot[0] - grabbed.from[0], spot[1] - grabbed.from[1]) > 4 * unit();
        grabbed.point = clamped([grabbed.start[0] + spot[0] - grabbed.from[0], grabbed.start[1] + spot[1] - grabbed.from[1]]);
        dragged();
      } else if (pinch && pinch.pan) {
        const dx = event.clientX - pinch.pan[0], dy = event.clientY - pinch.pan[1];
        pinch.moved = pinch.moved || Math.hypot(dx, dy) > 6;
        if (pinch.moved) look(pinch.box.x - dx * unit(), pinch.box.y - dy * unit());
      }
    });

    function dragged() {
      if (!grabbed.moved) return;
      const ring = current(), real = ring.slice(), moving = grabbed.n === null && picked ? chosen : grabbed.n;
      const shown = grabbed.n === null && !picked ? [...real, grabbed.point] : real.map((point, n) => n === moving ? grabbed.point : point);
      ring.splice(0, ring.length, ...shown);
      show();
      ring.splice(0, ring.length, ...real);
    }

    function lifted(event) {
      if (!fingers.delete(event.pointerId)) return;
      const done = grabbed, panned = pinch;
      if (fingers.size) return;
      grabbed = pinch = null;
      if (done && done.n !== null && !done.moved) pressed(done);
      else if (done && done.n !== null) change(() => { current()[done.n] = done.point; chosen = done.n; picked = false; });
      else if (done) set(done.point);
      else if (panned && panned.pan && !panned.moved) tapped(panned.spot);
      else show();
    }

    // a tap on a point takes it up; one beside the point that was taken up is its new place
    function pressed({ n, from }) {
      const again = picked && n === chosen, away = Math.hypot(from[0] - current()[n][0], from[1] - current()[n][1]);
      if (again && away > 6 * unit()) { set(from); return; }
      chosen = n;
      picked = !again;
      draft();
      show();
    }

    // a tap where nothing is drawn: on a side of what is chosen, or on another mark
    function tapped(spot) {
      if (at && !open && !SIZE[at.kind] && isNear(spot, current())) { set(spot); return; }
      if (open) { show(); return; }
      const found = rings().filter((place) => ringOf(place).length > 1 && isNear(spot, ringOf(place)));
      const inside = rings().filter((place) => place.kind === "area" && board.querySelector("path") && holds(ringOf(place), spot));
      const next = found[0] || inside[0];
      if (next && !same(next, at)) choose(next);
      else { chosen = null; picked = false; show(); }
    }
    const holds = (ring, [x, y]) => ring.reduce((odd, [ax, ay], n) => { const [bx, by] = ring[(n + 1) % ring.length]; return (ay > y) !== (by > y) && x < ((bx - ax) * (y - ay)) / (by - ay) + ax ? !odd : odd; }, false);

    function spread() {
      const [[ax, ay], [bx, by]] = [...fingers.values()];
      return { middle: [(ax + bx) / 2, (ay + by) / 2], apart: Math.hypot(ax - bx, ay - by) || 1, box: { ...box }, one: unit() };
    }
    function pinched() {
      const now = spread(), w = Math.min(width, Math.max(width / 24, (pinch.box.w * pinch.apart) / now.apart)), share = w / pinch.box.w;
      const rect = board.getBoundingClientRect(), across = (pinch.middle[0] - rect.left) / rect.width, down = (pinch.middle[1] - rect.top) / rect.height;
      const x = pinch.box.x + across * (pinch.box.w - w) - (now.middle[0] - pinch.middle[0]) * pinch.one * share;
      const y = pinch.box.y + down * (pinch.box.h - pinch.box.h * share) - (now.middle[1] - pinch.middle[1]) * pinch.one * share;
      look(x, y, w, (w * height) / width);
    }

    board.addEventListener("pointerup", lifted);
    board.addEventListener("pointercancel", (event) => { fingers.delete(event.pointerId); grabbed = pinch = null; show(); });

    // --- keyboard -----------------------------------------------------------------------------------------------

    // a key that is held goes farther with each step
    const stride = (event) => { held = event.repeat ? held + 1 : 0; return (event.shiftKey ? 10 : 1) * Math.min(64, 2 ** Math.floor(held / 5)); };
    const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

    board.addEventListener("keydown", (event) => {
      const point = event.target.closest(".point"), way = WAYS[event.key];
      if (way) {
        const step = stride(event);
        event.preventDefault();
        if (point) { chosen = Number(point.dataset.point); nudge(way[0] * step, way[1] * step); }
        else { cross = clamped([(cross || middle())[0] + way[0] * step, (cross || middle())[1] + way[1] * step]); follow(cross); }
      } else if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        if (point) { chosen = Number(point.dataset.point); picked = true; board.focus({ preventScroll: true }); cross = current()[chosen]; show(); }
        else if (at && ((open && !full()) || picked)) set(cross || middle());
      } else if (event.key === "Delete" || event.key === "Backspace") {
        event.preventDefault();
        if (point) chosen = Number(point.dataset.point);
        if (at && current().length) change(() => { current().splice(chosen === null ? -1 : chosen, 1); chosen = null; if (SIZE[at.kind]) open = true; });
      } else if (event.key === "Escape" && at) { event.stopPropagation(); chosen = null; picked = false; show(); }
    });
    const middle = () => [box.x + box.w / 2, box.y + box.h / 2];
    function follow([x, y]) {
      if (x < box.x || x > box.x + box.w || y < box.y || y > box.y + box.h) look(x - box.w / 2, y - box.h / 2);
      else show();
    }
    board.addEventListener("focusin", (event) => { const point = event.target.closest(".point"); if (point) chosen = Number(point.dataset.point); nudges.hidden = !at || chosen === null; showLens(unit()); });
    board.addEventListener("focusout", () => setTimeout(() => { if (document.contains(root)) showLens(unit()); }));

    // --- buttons and fields -------------------------------------------------------------------------------------

    root.addEventListener("click", (event) => {
      const button = event.target.closest("button");
      if (!button) return;
      if (button.dataset.nudge) nudge(...button.dataset.nudge.split(" ").map(Number));
      else if (deeds[button.dataset.do]) deeds[button.dataset.do]();
    });
    root.addEventListener("input", (event) => {
      const field = event.target.dataset.field;
      if (!field || !at) return;
      const value = event.target.value;
      if (at.kind === "frame") doc.frame[field] = value;
      else if (at.kind === "check") doc.checks[at.n].length = value;
      else if (field === "elsewhere") doc.areas[at.n].elsewhere = event.target.checked;
      else doc.areas[at.n].work = value;
      draft();
      hint();
      later("reckon", reckon);
      later("save", save);
    });
    root.addEventListener("submit", (event) => { if (event.target === form) { event.preventDefault(); event.stopPropagation(); } });

    board.setAttribute("tabindex", 0);
    saved = sendable();
    restore();
    show();
    if (doc.areas.length) reckon();
    later("save", save);
    const sizes = new ResizeObserver(() => { if (document.contains(root)) show(); else sizes.disconnect(); });
    sizes.observe(board);
    return { key, sent, undo: deeds.undo, redo: deeds.redo, root };
  }

  // --- with the other pages -------------------------------------------------------------------------------------

  let now = null;
  function begin() {
    const root = document.getElementById("marking");
    if (!root || !root.dataset.key) { now = null; return; }
    if (!now || now.root !== root) now = marking(root);
  }
  document.addEventListener("survey:shown", begin);
  document.addEventListener("survey:sent", (event) => { if (now && event.detail.key === now.key) now.sent(event.detail); });
  document.addEventListener("keydown", (event) => {
    const typing = event.target.matches && event.target.matches("input[type=text], textarea");
    if (!now || !document.contains(now.root) || typing || !(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
    event.preventDefault();
    event.stopImmediatePropagation();
    (event.shiftKey ? now.redo : now.undo)();
  }, true);
  begin();
})();
