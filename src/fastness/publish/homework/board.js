// The board of section "look": hatched dark squares, cut-paper units, coordinates outside. A square
// is a button that lies over the drawing.

const SVG = "http://www.w3.org/2000/svg";
const SIDE = 60;
const LEFT = 34;
const TOP = 10;
const SIZE = 524;
const STROKES = 8;
const FILES = "abcdefgh";
/** @type {Readonly<Record<string, string>>} */
const KINDS = { k: "king", q: "queen", r: "rook", b: "bishop", n: "knight", p: "pawn" };

/** @typedef {{ fen: string, flip: boolean, played: readonly string[] }} Position */
/** @typedef {Readonly<Record<string, { outline: string, lines: string }>>} Shapes */

/**
 * The letters of the units by their squares, from a FEN.
 * @param {string} fen
 * @returns {Map<string, string>}
 */
export function unitsOf(fen) {
  const found = new Map();
  (fen.split(" ")[0] ?? "").split("/").forEach((row, down) => {
    let file = 0;
    for (const letter of row) {
      if (/\d/.test(letter)) file += Number(letter);
      else {
        found.set(`${FILES.charAt(file)}${8 - down}`, letter);
        file += 1;
      }
    }
  });
  return found;
}

/**
 * The squares from the upper left to the lower right.
 * @param {boolean} flip
 * @returns {string[]}
 */
export function squaresAsSeen(flip) {
  const all = [];
  for (let rank = 8; rank > 0; rank -= 1) for (const file of FILES) all.push(`${file}${rank}`);
  return flip ? all.reverse() : all;
}

/**
 * The square that an arrow key leads to; the same one at the edge.
 * @param {string} square
 * @param {string} key
 * @param {boolean} flip
 * @returns {string | undefined}
 */
export function squareBeside(square, key, flip) {
  const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[key];
  if (!step) return undefined;
  const turn = flip ? -1 : 1;
  const file = FILES.indexOf(square.charAt(0)) + turn * (step[0] ?? 0);
  const rank = Number(square.charAt(1)) + turn * (step[1] ?? 0);
  return file < 0 || file > 7 || rank < 1 || rank > 8 ? square : `${FILES.charAt(file)}${rank}`;
}

/**
 * @param {string} name
 * @param {Readonly<Record<string, string | number>>} attributes
 * @param {readonly Node[]} [inside]
 * @returns {SVGElement}
 */
function drawn(name, attributes, inside = []) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  element.append(...inside);
  return element;
}

let drawings = 0;

/**
 * The drawing of a position; the squares of the move that is asked about stand in frames.
 * @param {Position} position
 * @param {Shapes} shapes
 * @returns {SVGElement}
 */
export function boardDrawn({ fen, flip, played }, shapes) {
  drawings += 1;
  const hatch = `hatch-${drawings}`;
  const squares = squaresAsSeen(flip);
  const units = unitsOf(fen);
  let dark = "";
  let strokes = "";
  for (let step = 1; step < 2 * STROKES; step += 1) {
    const at = (SIDE * step) / STROKES;
    strokes += `M0 ${at}L${at} 0`;
  }
  /** @type {SVGElement[]} */
  const placed = [];
  squares.forEach((square, index) => {
    const x = LEFT + (index % 8) * SIDE;
    const y = TOP + Math.floor(index / 8) * SIDE;
    const odd = (FILES.indexOf(square.charAt(0)) + Number(square.charAt(1))) % 2;
    if (odd) dark += `M${x} ${y}h${SIDE}v${SIDE}h-${SIDE}z`;
    if (played.includes(square)) {
      const frame = { x: x + 3, y: y + 3, width: SIDE - 6, height: SIDE - 6, class: "frame" };
      placed.push(drawn("rect", frame));
    }
    const letter = units.get(square);
    const shape = letter && shapes[KINDS[letter.toLowerCase()] ?? ""];
    if (letter && shape) {
      const side = letter === letter.toUpperCase() ? "white" : "black";
      placed.push(
        drawn("g", { transform: `translate(${x} ${y})`, class: side }, [
          drawn("path", { d: shape.outline, class: "rim" }),
          drawn("path", { d: shape.outline, class: "outline" }),
          drawn("path", { d: shape.lines, class: "lines" }),
        ]),
      );
    }
  });
  return drawn("svg", { viewBox: `0 0 ${SIZE} ${SIZE}`, "aria-hidden": "true" }, [
    drawn("defs", {}, [
      drawn(
        "pattern",
        { id: hatch, x: LEFT, y: TOP, width: SIDE, height: SIDE, patternUnits: "userSpaceOnUse" },
        [drawn("path", { d: strokes, class: "hatch" })],
      ),
    ]),
    drawn("rect", { width: SIZE, height: SIZE, class: "ground" }),
    drawn("path", { d: dark, fill: `url(#${hatch})` }),
    drawn("rect", { x: LEFT - 1, y: TOP - 1, width: 482, height: 482, class: "edge" }),
    ...coordinates(squares),
    ...placed,
  ]);
}

/**
 * @param {readonly string[]} squares
 * @returns {SVGElement[]}
 */
function coordinates(squares) {
  const texts = [];
  for (let at = 0; at < 8; at += 1) {
    const middle = (at + 0.5) * SIDE;
    const across = drawn("text", { x: LEFT + middle, y: SIZE - 8 });
    across.textContent = (squares[at] ?? "").charAt(0);
    const down = drawn("text", { x: LEFT / 2 - 1, y: TOP + middle + 9 });
    down.textContent = (squares[at * 8] ?? "").charAt(1);
    texts.push(across, down);
  }
  return texts;
}

/**
 * A board whose squares are buttons, told apart by `name`. One of them is in the order of the Tab
 * key; the arrow keys lead on from it.
 * @param {{ position: Position, shapes: Shapes, label: string, first: string,
 *   name: (square: string) => string, choose: (square: string) => void }} what
 * @returns {{ element: HTMLElement,
 *   mark: (marks: ReadonlyMap<string, string>, pressed: ReadonlySet<string>) => void }}
 */
export function boardToTap(what) {
  const cells = document.createElement("div");
  cells.className = "squares";
  /** @type {Map<string, HTMLButtonElement>} */
  const buttons = new Map();
  for (const square of squaresAsSeen(what.position.flip)) {
    const button = document.createElement("button");
    button.type = "button";
    button.dataset["square"] = square;
    button.tabIndex = square === what.first ? 0 : -1;
    button.addEventListener("click", () => what.choose(square));
    button.addEventListener("focus", () => {
      for (const other of buttons.values()) other.tabIndex = other === button ? 0 : -1;
    });
    button.addEventListener("keydown", (event) => {
      const beside = squareBeside(square, event.key, what.position.flip);
      if (!beside) return;
      event.preventDefault();
      buttons.get(beside)?.focus();
    });
    buttons.set(square, button);
    cells.append(button);
  }
  const element = document.createElement("div");
  element.className = "board";
  element.setAttribute("role", "group");
  element.setAttribute("aria-label", what.label);
  element.append(boardDrawn(what.position, what.shapes), cells);
  return {
    element,
    mark(marks, pressed) {
      for (const [square, button] of buttons) {
        button.className = marks.get(square) ?? "";
        button.setAttribute("aria-label", what.name(square));
        button.setAttribute("aria-pressed", String(pressed.has(square)));
      }
    },
  };
}
