/* The little that a page cannot do without a script: tape keys, and marking fields with faults. */
(() => {
  "use strict";
  document.documentElement.classList.add("js");

  /* Fields whose fault came with the preview are marked for screen readers as well. */
  document.addEventListener("htmx:afterSettle", () => {
    for (const told of document.querySelectorAll("p.wrong[id^='wrong-']")) {
      const field = document.getElementById(told.id.replace("wrong-", "in-"));
      if (!field) continue;
      if (told.textContent.trim()) {
        field.setAttribute("aria-invalid", "true");
        field.closest("details")?.setAttribute("open", "");
      } else field.removeAttribute("aria-invalid");
    }
  });

  /* A plan goes on while the page is out of reach; it is asked for again every second. */
  document.addEventListener("htmx:sendError", (event) => {
    const lost = document.getElementById("lost");
    if (lost && event.target.id === "clock") lost.hidden = false;
  });
  document.addEventListener("htmx:afterSwap", () => {
    const lost = document.getElementById("lost");
    if (lost) lost.hidden = true;
  });

  /* When the page is out of reach, say so beside the picture; what was typed stays. */
  for (const failure of ["htmx:sendError", "htmx:responseError", "htmx:timeout"]) {
    document.addEventListener(failure, (event) => {
      const state = event.target.querySelector?.(".state") ?? document.querySelector(".state");
      if (state) state.textContent = "The picture did not come. What you typed is still here.";
    });
  }

  const keypad = document.getElementById("keypad");
  if (!keypad) return;
  let entry = null;

  const put = (text) => {
    const { selectionStart: from, selectionEnd: to, value } = entry;
    entry.setRangeText(text, from ?? value.length, to ?? value.length, "end");
    entry.dispatchEvent(new Event("input", { bubbles: true }));
  };

  const press = (key) => {
    const before = entry.value.slice(0, entry.selectionStart ?? entry.value.length);
    if (key.dataset.part) put(/\d$/.test(before) ? ` ${key.dataset.part}` : key.dataset.part);
    else if (key.dataset.put) put(key.dataset.put);
    else if (key.dataset.do === "back") {
      if (entry.selectionStart === entry.selectionEnd && entry.selectionStart > 0) {
        entry.selectionStart -= 1;
      }
      put("");
    } else if (key.dataset.do === "next") {
      const all = [...entry.form.querySelectorAll("input:not([type=hidden]), select, summary, button")];
      const shown = all.filter((each) => each.offsetParent !== null);
      shown[shown.indexOf(entry) + 1]?.focus();
    }
  };

  document.addEventListener("focusin", (event) => {
    if (event.target.matches?.("[data-tape]")) {
      entry = event.target;
      keypad.hidden = false;
    } else if (!keypad.contains(event.target)) {
      entry = null;
      keypad.hidden = true;
    }
  });
  document.addEventListener("focusout", (event) => {
    if (event.relatedTarget === null && !document.activeElement?.matches("[data-tape]")) {
      setTimeout(() => {
        if (!document.activeElement?.matches("[data-tape]")) keypad.hidden = true;
      }, 150);
    }
  });
  /* The field keeps the focus, and the phone its number pad, while a key is pressed. */
  keypad.addEventListener("pointerdown", (event) => event.preventDefault());
  keypad.addEventListener("mousedown", (event) => event.preventDefault());
  keypad.addEventListener("click", (event) => {
    const key = event.target.closest("button");
    if (key && entry) press(key);
  });

  /* Where the phone's number pad lies over the page instead of pushing it up, stand above it. */
  const seen = window.visualViewport;
  seen?.addEventListener("resize", () => {
    const covered = window.innerHeight - seen.height - seen.offsetTop;
    keypad.style.bottom = `${Math.max(0, covered)}px`;
  });
})();
