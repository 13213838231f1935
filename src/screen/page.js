// The classroom screen: one question at a time, its mechanism turned by one clock.
//
// `toothmark show` writes everything that moves with what this script needs beside it:
// on the svg `data-speed` (turns of the drive a second) and, where a rack or a load
// comes to its end, `data-back` and `data-forth` (turns of the drive); on each group
// `data-move` and how much it does so for one turn of the drive. `place` puts every
// group where it is after so many turns of the drive; nothing else moves anything.
//
// For whoever wants to look at one moment (the tests do): `toothmark.clock.set(seconds)`
// stops the clock there, `toothmark.clock.seconds` tells it.
"use strict";
(() => {
  const all = (within, selector) => [...within.querySelectorAll(selector)];
  const questions = all(document, ".question");
  const links = all(document, "nav a");
  const said = document.getElementById("said");
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  // How long a rack or load waits at its end.
  const REST_SECONDS = 1;
  const QUARTER = 0.25;
  const SLOW = 0.25;

  let current = 0;
  let seconds = 0;
  let turning = false;
  let slow = false;
  let before = null;

  const question = () => questions[current];
  const figure = () => question().querySelector(".drawing");
  const say = (text) => { said.textContent = text; };

  // ---- What moves ----

  const number = (element, name) => {
    const [top, bottom] = (element.dataset[name] || "0").split("/");
    return Number(top) / Number(bottom || 1);
  };

  // Where the point (x, y) has gone when what carries it has turned.
  const round = (element, turns) => {
    const x = number(element, "x");
    const y = number(element, "y");
    const angle = number(element, "round") * turns * 2 * Math.PI;
    const [atX, atY] = [number(element, "roundX"), number(element, "roundY")];
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    return [
      (x - atX) * (cos - 1) - (y - atY) * sin,
      (x - atX) * sin + (y - atY) * (cos - 1),
    ];
  };

  const after = (length, every) => (every ? length % every : length);

  const movers = {
    wheel(element, turns) {
      const [dx, dy] = round(element, turns);
      const degrees = (number(element, "turns") * turns * 360) % 360;
      element.setAttribute("transform",
        `translate(${dx} ${dy}) rotate(${degrees} ${element.dataset.x} ${element.dataset.y})`);
    },
    label(element, turns) {
      const [dx, dy] = round(element, turns);
      element.setAttribute("transform", `translate(${dx} ${dy})`);
    },
    leader(element, turns) {
      const [dx, dy] = round(element, turns);
      const [x, y] = [number(element, "x") + dx, number(element, "y") + dy];
      const [left, top, right, bottom] = element.dataset.label.split(" ").map(Number);
      const [line, dot] = element.children;
      line.setAttribute("x1", Math.max(left, Math.min(right, x)));
      line.setAttribute("y1", Math.max(top, Math.min(bottom, y)));
      line.setAttribute("x2", x);
      line.setAttribute("y2", y);
      dot.setAttribute("cx", x);
      dot.setAttribute("cy", y);
    },
    slide(element, turns) {
      const every = number(element, "every");
      const right = after(number(element, "right") * turns, every);
      const down = after(number(element, "down") * turns, every);
      element.setAttribute("transform", `translate(${right} ${down})`);
    },
    string(element, turns) {
      const long = number(element, "long");
      const share = (long + number(element, "down") * turns) / long;
      element.setAttribute("transform",
        `matrix(1 0 0 ${share} 0 ${number(element, "y") * (1 - share)})`);
    },
    strand(element, turns) {
      for (const path of element.children) {
        path.setAttribute("stroke-dashoffset", -number(element, "run") * turns);
      }
    },
    crank(element, turns) {
      const { x, y, along } = element.dataset;
      const tall = Math.cos(number(element, "turns") * turns * 2 * Math.PI);
      element.setAttribute("transform",
        `translate(${x} ${y}) rotate(${along}) scale(1 ${tall}) rotate(${-along}) translate(${-x} ${-y})`);
    },
    cone(element, turns) {
      const [along, radius] = element.dataset.heel.split(" ").map(Number);
      const teeth = number(element, "teeth");
      const toe = number(element, "toe");
      const half = number(element, "half");
      const turned = number(element, "turns") * turns * 2 * Math.PI;
      let lines = "";
      for (let tooth = 0; tooth < teeth; tooth += 1) {
        for (const side of [-half, half]) {
          // A gap lies at the back, where the wheel's tooth is.
          const angle = turned + side + Math.PI / 2 + ((tooth + 0.5) / teeth) * 2 * Math.PI;
          if (Math.cos(angle) > 0.02) {
            const across = radius * Math.sin(angle);
            lines += `M${along} ${across}L${along * toe} ${across * toe}`;
          }
        }
      }
      const path = element.firstElementChild;
      path.setAttribute("d", lines);
      path.setAttribute("transform",
        `translate(${element.dataset.x} ${element.dataset.y}) rotate(${element.dataset.along})`);
    },
  };

  const drawingOf = (drawing) => drawing && drawing.querySelector(".stage:not([hidden]) svg");

  const place = (svg, turns) => {
    for (const element of all(svg, "[data-move]")) {
      movers[element.dataset.move](element, turns);
    }
  };

  // How many turns the drive has made; a rack goes to its end, rests and comes back.
  const turnsAt = (svg, time) => {
    const speed = number(svg, "speed");
    if (!("forth" in svg.dataset)) {
      return { turns: speed * time, back: false };
    }
    const [back, forth] = [number(svg, "back"), number(svg, "forth")];
    const first = forth / speed;
    const run = (forth + back) / speed;
    if (time <= first) {
      return { turns: speed * time, back: false };
    }
    const later = (time - first) % (2 * (run + REST_SECONDS));
    if (later < REST_SECONDS) {
      return { turns: forth, back: false };
    }
    if (later < REST_SECONDS + run) {
      return { turns: forth - speed * (later - REST_SECONDS), back: true };
    }
    if (later < 2 * REST_SECONDS + run) {
      return { turns: -back, back: true };
    }
    return { turns: -back + speed * (later - 2 * REST_SECONDS - run), back: false };
  };

  const show = () => {
    const drawing = figure();
    const svg = drawingOf(drawing);
    if (!svg || !("speed" in svg.dataset)) {
      return;
    }
    const { turns, back } = turnsAt(svg, seconds);
    place(svg, turns);
    drawing.querySelector(".back").hidden = !(back && turning);
  };

  const tick = (now) => {
    if (!turning) {
      before = null;
      return;
    }
    if (before !== null) {
      // A page that was out of sight goes on where it was.
      seconds += Math.min(now - before, 100) / 1000 * (slow ? SLOW : 1);
      show();
    }
    before = now;
    requestAnimationFrame(tick);
  };

  // ---- What is held still ----

  const isOpen = (part) => !part.querySelector(".answer").hidden;
  const telling = () => all(question(), ".part[data-tells]");
  const isFree = () => telling().every(isOpen);
  const canTurn = () => Boolean(figure()) && "turns" in figure().dataset && isFree();

  const label = () => {
    const drawing = figure();
    const play = drawing && drawing.querySelector(".play");
    if (play) {
      play.textContent = still.matches ? "A quarter turn" : turning ? "Stop" : "Turn it";
      const pace = drawing.querySelector(".slow");
      pace.setAttribute("aria-pressed", String(slow));
      pace.hidden = still.matches;
    }
  };

  const run = (wanted) => {
    turning = wanted && canTurn() && !still.matches;
    if (turning) {
      before = null;
      requestAnimationFrame(tick);
    }
    label();
    show();
  };

  // With reduced motion nothing runs: each press turns the drive a quarter turn on.
  const step = () => {
    const svg = drawingOf(figure());
    seconds += QUARTER / number(svg, "speed");
    show();
    say("A quarter turn on.");
  };

  const play = () => {
    if (!canTurn()) {
      if (figure() && "turns" in figure().dataset) {
        say("It stands still until the answer is shown.");
      } else {
        attempt();
      }
    } else if (still.matches) {
      step();
    } else {
      run(!turning);
      say(turning ? "It turns." : "It stands still.");
    }
  };

  const toStart = () => {
    seconds = 0;
    run(turning);
    show();
  };

  // What cannot turn gives a little and sticks.
  const attempt = () => {
    const drawing = figure();
    if (!drawing || !("stuck" in drawing.dataset) || !isFree()) {
      return;
    }
    say("It does not turn.");
    const wheel = drawingOf(drawing).querySelector("[data-part]");
    if (wheel && !still.matches) {
      const box = wheel.getBBox();
      wheel.style.transformOrigin = `${box.x + box.width / 2}px ${box.y + box.height / 2}px`;
      const turns = [0, 1.6, 0.2, 1.4, 0.1, 1.2, 0];
      wheel.animate(turns.map((turn) => ({ transform: `rotate(${turn}deg)` })), 900);
    }
  };

  const settle = () => {
    const drawing = figure();
    if (!drawing) {
      return;
    }
    const free = isFree();
    const told = drawing.querySelector(".after");
    if (told && told.hidden === free) {
      told.hidden = !free;
      drawing.querySelector(".before").hidden = free;
    }
    const held = drawing.querySelector(".held");
    if (held) {
      held.hidden = free;
    }
    const remark = drawing.querySelector(".remark");
    if (remark) {
      remark.hidden = !free;
    }
    const controls = drawing.querySelector(".controls");
    if (controls) {
      controls.hidden = !free;
    }
  };

  const reveal = (part, open) => {
    const wasFree = isFree();
    const button = part.querySelector(".show");
    part.querySelector(".answer").hidden = !open;
    button.setAttribute("aria-expanded", String(open));
    button.textContent = open ? "Hide the answer" : button.dataset.shows;
    settle();
    if (isFree() !== wasFree) {
      seconds = 0;
      show();
      run(open);
    }
    say(open ? `Answer: ${part.querySelector(".result").textContent}` : "The answer is hidden.");
  };

  // The next answer; once all are shown they are hidden again.
  const answer = () => {
    const parts = all(question(), ".part");
    const next = parts.find((part) => !isOpen(part));
    if (next) {
      reveal(next, true);
      next.querySelector(".answer").scrollIntoView({ block: "nearest" });
    } else {
      parts.reverse().forEach((part) => reveal(part, false));
    }
  };

  const pace = () => {
    slow = !slow;
    label();
    say(slow ? "Slowly." : "At the usual speed.");
  };

  // ---- Which question ----

  const go = (index, takesFocus) => {
    run(false);
    current = Math.max(0, Math.min(questions.length - 1, index));
    seconds = 0;
    questions.forEach((it, place) => it.classList.toggle("current", place === current));
    links.forEach((it, place) => {
      if (place === current) {
        it.setAttribute("aria-current", "true");
        it.scrollIntoView({ block: "nearest" });
      } else {
        it.removeAttribute("aria-current");
      }
    });
    document.getElementById("previous").disabled = current === 0;
    document.getElementById("next").disabled = current === questions.length - 1;
    settle();
    run(true);
    scrollTo(0, 0);
    document.querySelector("main").scrollTo(0, 0);
    if (takesFocus) {
      question().focus({ preventScroll: true });
      history.replaceState(null, "", `#${question().id}`);
    }
  };

  const fromAddress = () => {
    const index = questions.findIndex((it) => `#${it.id}` === location.hash);
    return Math.max(0, index);
  };

  const keys = {
    " ": play,
    ArrowLeft: () => go(current - 1, true),
    ArrowRight: () => go(current + 1, true),
    PageUp: () => go(current - 1, true),
    PageDown: () => go(current + 1, true),
    a: answer,
    s: pace,
    r: toStart,
    t: attempt,
  };

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey) {
      return;
    }
    // A key that presses the button in focus does just that.
    const isPressed = event.key === " " && event.target.closest("button, a");
    const does = keys[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (does && !isPressed) {
      event.preventDefault();
      does();
    }
  });

  document.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) {
      return;
    }
    if (button.matches(".show")) {
      const part = button.closest(".part");
      reveal(part, !isOpen(part));
    } else if (button.matches(".play")) {
      play();
    } else if (button.matches(".slow")) {
      pace();
    } else if (button.matches(".start")) {
      toStart();
    } else if (button.matches(".try")) {
      attempt();
    } else {
      go(current + (button.id === "next" ? 1 : -1), true);
    }
    // After a click with a mouse the keys are the page's again.
    if (event.detail > 0) {
      question().focus({ preventScroll: true });
    }
  });

  addEventListener("hashchange", () => go(fromAddress(), true));
  still.addEventListener("change", () => run(!still.matches));

  globalThis.toothmark = {
    clock: {
      get seconds() { return seconds; },
      set(time) {
        run(false);
        seconds = time;
        show();
      },
    },
  };

  document.body.classList.add("one");
  go(fromAddress(), false);
})();
