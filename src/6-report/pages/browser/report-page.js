// @ts-check
/*
 * What a report page does where it is looked at: the slider between photo and prediction, and the loupe over the dots.
 * Nothing is fetched and nothing kept. The loupe burns the few pixels in its view from weights and tables that come with the page.
 */
(() => {
  /**
   * @typedef {{ before: number, width: number, taps: number[] }} Taps see LoupeTaps
   * @typedef {{ samplesAlong: number, samplesAcross: number, evenLines: Taps, oddLines: Taps, across: Taps, closed: boolean, inverseDose: [number, number], lastDose: number,
   *   luminance: number[], colours: string }} Burn see LoupeBurn
   * @typedef {{ left: number, top: number, columns: number, rows: number }} Rectangle
   * @typedef {{ region: Rectangle, isWhole: boolean, columns: number, rows: number, levels: number, pitchAlongMm: number, pitchAcrossMm: number, mirror: boolean,
   *   start: { x: number, y: number }, burn: Burn }} Dots columns and rows are the piece's
   */

  /** @template {Element} E @param {ParentNode} within @param {string} selector @param {new () => E} kind @returns {E} */
  const find = (within, selector, kind) => {
    const found = within.querySelector(selector);
    if (!(found instanceof kind)) throw new Error(`The page lacks ${selector}.`);
    return found;
  };
  /** @param {number} value @param {number} least @param {number} most */
  const held = (value, least, most) => Math.max(least, Math.min(most, value));

  /** @param {HTMLElement} compare */
  function slide(compare) {
    const input = find(compare, "input", HTMLInputElement);
    const show = () => {
      compare.style.setProperty("--at", `${input.value}%`);
      const share = Math.round(Number(input.value));
      input.setAttribute("aria-valuetext", `left ${share} % as wanted, the rest as predicted`);
    };
    input.addEventListener("input", show);
    show();
  }

  /**
   * The dose of a window of pixels at every sample, and what it does.
   *
   * @param {Burn} burn
   * @param {Float32Array} levels [rows × columns] share of the beam, 0 or 1, with the pixels around the window that reach into it
   * @param {{ columns: number, rows: number, firstRow: number }} window its first row counted on the piece: odd lines may differ
   */
  function expose(burn, levels, { columns, rows, firstRow }) {
    const { samplesAlong, samplesAcross, evenLines, oddLines, across } = burn;
    const before = Math.max(evenLines.before, oddLines.before);
    const after = Math.max(evenLines.width - evenLines.before, oddLines.width - oddLines.before) - 1;
    const stride = columns + before + after;
    const lines = rows + across.width - 1;
    const wide = columns * samplesAlong;
    const along = new Float32Array(lines * wide);
    for (let y = 0; y < lines; y++) {
      const line = (firstRow - across.before + y) % 2 === 0 ? evenLines : oddLines;
      for (let x = 0; x < columns; x++) {
        const first = y * stride + x + before - line.before;
        for (let s = 0; s < samplesAlong; s++) {
          let dose = 0;
          for (let k = 0; k < line.width; k++) dose += levels[first + k] * line.taps[s * line.width + k];
          along[y * wide + x * samplesAlong + s] = dose;
        }
      }
    }
    const dose = new Float32Array(rows * samplesAcross * wide);
    for (let y = 0; y < rows; y++) {
      for (let t = 0; t < samplesAcross; t++) {
        const to = (y * samplesAcross + t) * wide;
        for (let k = 0; k < across.width; k++) {
          const weight = across.taps[t * across.width + k];
          for (let i = 0; i < wide; i++) dose[to + i] += weight * along[(y + k) * wide + i];
        }
      }
    }
    return dose;
  }

  /** @param {HTMLElement} figure @param {HTMLImageElement} picture the dots */
  function look(figure, picture) {
    /** @type {Dots} */
    const dots = JSON.parse(figure.dataset.dots ?? "");
    const { region, burn, mirror, pitchAlongMm, pitchAcrossMm } = dots;
    const field = find(figure, ".field", HTMLElement);
    const ring = find(figure, ".ring", HTMLElement);
    const frame = find(figure, ".frame", HTMLElement);
    const zoom = find(figure, "input", HTMLInputElement);
    const says = find(figure, "output", HTMLOutputElement);
    const bits = find(figure, "canvas.bits", HTMLCanvasElement);
    const marks = find(figure, "canvas.marks", HTMLCanvasElement);
    const finer = Math.min(pitchAlongMm, pitchAcrossMm);
    const before = Math.max(burn.evenLines.before, burn.oddLines.before);
    const after =
      Math.max(burn.evenLines.width - burn.evenLines.before, burn.oddLines.width - burn.oddLines.before) - 1;
    const reader = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
    const colours = Uint8Array.from(burn.colours.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
    const steps = burn.luminance.length - 1;

    /** Middle of the view, in burn pixels of the piece as seen. */
    let { x, y } = dots.start;
    const seenLeft = mirror ? dots.columns - region.left - region.columns : region.left;

    // At the sides of a part, what lies beyond would burn into it and is not known.
    const inset = dots.isWhole ? 0 : Math.max(before, after, burn.across.width);

    /** @param {CanvasRenderingContext2D} on */
    function draw(on) {
      const spanMm = Number(zoom.value) * finer;
      const columns = held(Math.round(spanMm / pitchAlongMm), 1, region.columns);
      const rows = held(Math.round(spanMm / pitchAcrossMm), 1, region.rows);
      const sides = inset + columns / 2;
      const ends = inset + rows / 2;
      x = held(x, seenLeft + sides, seenLeft + region.columns - sides);
      y = held(y, region.top + ends, region.top + region.rows - ends);
      const seen = Math.round(x - columns / 2);
      const left = mirror ? dots.columns - seen - columns : seen;
      const top = Math.round(y - rows / 2);

      const wide = columns + before + after;
      const high = rows + burn.across.width - 1;
      on.canvas.width = wide;
      on.canvas.height = high;
      on.fillStyle = "#fff";
      on.fillRect(0, 0, wide, high);
      on.imageSmoothingEnabled = false;
      const turns = burn.closed && dots.isWhole ? [-1, 0, 1] : [0];
      for (const turn of turns) {
        const shift = turn * dots.columns;
        on.drawImage(picture, before - (left - region.left) + shift, burn.across.before - (top - region.top));
      }
      const { data } = on.getImageData(0, 0, wide, high);
      const full = dots.levels - 1;
      const levels = Float32Array.from(
        { length: wide * high },
        (_, i) => Math.round(full * (1 - data[4 * i] / 255)) / full,
      );
      const dose = expose(burn, levels, { columns, rows, firstRow: top });

      /** @param {HTMLCanvasElement} canvas @param {number} sx samples of a pixel @param {number} sy @param {(i: number, x: number, y: number, rgba: Uint8ClampedArray, at: number) => void} paint */
      const fill = (canvas, sx, sy, paint) => {
        canvas.width = columns * sx;
        canvas.height = rows * sy;
        canvas.style.aspectRatio = `${columns * pitchAlongMm} / ${rows * pitchAcrossMm}`;
        const image = new ImageData(canvas.width, canvas.height);
        for (let j = 0, i = 0; j < canvas.height; j++) {
          for (let k = 0; k < canvas.width; k++, i++) {
            const at = 4 * (j * canvas.width + (mirror ? canvas.width - 1 - k : k));
            paint(i, k, j, image.data, at);
            image.data[at + 3] = 255;
          }
        }
        canvas.getContext("2d")?.putImageData(image, 0, 0);
      };
      let burned = 0;
      fill(bits, 1, 1, (_, k, j, rgba, at) => {
        const level = levels[(j + burn.across.before) * wide + k + before];
        if (level > 0) burned++;
        rgba.fill(255 * (1 - level), at, at + 3);
      });
      let luminance = 0;
      const [first, last] = burn.inverseDose;
      fill(marks, burn.samplesAlong, burn.samplesAcross, (i, _k, j, rgba, at) => {
        const row = top + Math.floor(j / burn.samplesAcross);
        const perDose = first + ((last - first) * row) / Math.max(1, dots.rows - 1);
        const step = Math.round(Math.min(1, dose[i] / perDose / burn.lastDose) * steps);
        luminance += burn.luminance[step] / 1e5;
        for (let c = 0; c < 3; c++) rgba[at + c] = colours[3 * step + c];
      });

      /** @param {HTMLElement} mark @param {number} px @param {number} py */
      const place = (mark, px, py) => {
        mark.style.left = `${(100 * px) / dots.columns}%`;
        mark.style.top = `${(100 * py) / dots.rows}%`;
      };
      place(ring, seen + columns / 2, top + rows / 2);
      place(frame, seen, top);
      frame.style.width = `${(100 * columns) / dots.columns}%`;
      frame.style.height = `${(100 * rows) / dots.rows}%`;
      const mean = luminance / dose.length;
      const lightness = mean > 216 / 24389 ? 116 * Math.cbrt(mean) - 16 : (mean * 24389) / 27;
      const [atX, atY] = [x * pitchAlongMm, y * pitchAcrossMm].map((mm) => mm.toFixed(1));
      const share = Math.round((100 * burned) / (columns * rows));
      says.textContent = `${atX} mm from the left, ${atY} mm from the top; a view of ${(columns * pitchAlongMm).toFixed(1)} × ${(rows * pitchAcrossMm).toFixed(1)} mm, in which ${share} % of the pixels burn: L* ${lightness.toFixed(1)} on average.`;
      return { columns, rows };
    }

    if (!reader) return;
    let size = draw(reader);
    const show = () => {
      size = draw(reader);
    };
    zoom.addEventListener("input", show);

    /** @type {Record<string, [number, number]>} */
    const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    ring.addEventListener("keydown", (event) => {
      const step = arrows[event.key];
      if (!step || event.ctrlKey || event.altKey || event.metaKey) return;
      event.preventDefault();
      x += step[0] * (event.shiftKey ? 1 : Math.ceil(size.columns / 4));
      y += step[1] * (event.shiftKey ? 1 : Math.ceil(size.rows / 4));
      show();
    });
    /** @param {MouseEvent} event */
    const moveTo = (event) => {
      const box = field.getBoundingClientRect();
      x = ((event.clientX - box.left) / box.width) * dots.columns;
      y = ((event.clientY - box.top) / box.height) * dots.rows;
      show();
    };
    field.addEventListener("click", moveTo);
    field.addEventListener("pointerdown", (event) => {
      // A finger beside the ring wants to scroll the page.
      if (event.pointerType === "touch" && event.target !== ring) return;
      field.setPointerCapture(event.pointerId);
      ring.focus({ preventScroll: true });
      event.preventDefault();
      moveTo(event);
    });
    field.addEventListener("pointermove", (event) => {
      if (field.hasPointerCapture(event.pointerId)) moveTo(event);
    });
  }

  document.documentElement.classList.add("live");
  for (const compare of document.querySelectorAll(".compare"))
    if (compare instanceof HTMLElement) slide(compare);
  for (const figure of document.querySelectorAll(".loupe")) {
    if (!(figure instanceof HTMLElement)) continue;
    const picture = find(figure, "img", HTMLImageElement);
    picture.decode().then(() => look(figure, picture));
  }
})();
