// Squares by name, and where they are drawn. A square is SQUARE wide in the drawing, as in print.
import shapes from "./shapes.json";

export const { SQUARE, LEFT, TOP, WIDTH, HEIGHT } = shapes.board;

export const FILES = "abcdefgh";
export const RANKS = "12345678";

/** A point of the drawing. */
export type Point = readonly [number, number];

/** All squares in the order in which they are read: from the top left of the board as it lies. */
export function squaresAsRead(flip: boolean): string[][] {
  const ranks = flip ? [...RANKS] : [...RANKS].reverse();
  const files = flip ? [...FILES].reverse() : [...FILES];
  return ranks.map((rank) => files.map((file) => file + rank));
}

/** Column and row of a square on the board as it lies, from 0 at the top left. */
export function placeOf(square: string, flip: boolean): Point {
  const file = FILES.indexOf(square.charAt(0));
  const rank = RANKS.indexOf(square.charAt(1));
  return flip ? [7 - file, rank] : [file, 7 - rank];
}

/** The square at a column and row of the board as it lies; undefined beside the board. */
export function squareAt(column: number, row: number, flip: boolean): string | undefined {
  return squaresAsRead(flip)[row]?.[column];
}

/** The upper left corner of a square in the drawing. */
export function cornerOf(square: string, flip: boolean): Point {
  const [column, row] = placeOf(square, flip);
  return [LEFT + column * SQUARE, TOP + row * SQUARE];
}

/** The middle of a square in the drawing. */
export function middleOf(square: string, flip: boolean): Point {
  const [x, y] = cornerOf(square, flip);
  return [x + SQUARE / 2, y + SQUARE / 2];
}

/** The square that an arrow key leads to; the same one at the edge. */
export function squareBeside(square: string, key: string, flip: boolean): string {
  const [column, row] = placeOf(square, flip);
  const steps: Record<string, Point> = {
    ArrowLeft: [-1, 0],
    ArrowRight: [1, 0],
    ArrowUp: [0, -1],
    ArrowDown: [0, 1],
    Home: [-column, 0],
    End: [7 - column, 0],
  };
  const [right, down] = steps[key] ?? [0, 0];
  return squareAt(column + right, row + down, flip) ?? square;
}
