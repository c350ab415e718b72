// The part of a drawing that is seen, in the drawing's millimetres, and how it
// changes. Pure: sizes in, window out.

export interface Size {
  width: number
  height: number
}

export interface Window extends Size {
  x: number
  y: number
}

export const most = 40 // times larger than fitted

export const fitted = (sheet: Size): Window => ({ x: 0, y: 0, width: sheet.width, height: sheet.height })

// Pixels for a millimetre of the drawing, where it is shown whole in its pane.
export const density = (w: Size, pane: Size) => Math.min(pane.width / w.width, pane.height / w.height)

// Enlarges by a factor so that the point stays where it is; never beyond the sheet
// or `most`.
export function zoomed(w: Window, sheet: Size, factor: number, at: { x: number; y: number }): Window {
  const width = Math.min(sheet.width, Math.max(sheet.width / most, w.width / factor))
  const share = width / w.width
  return kept({ x: at.x - (at.x - w.x) * share, y: at.y - (at.y - w.y) * share, width, height: w.height * share }, sheet)
}

export function moved(w: Window, sheet: Size, dx: number, dy: number): Window {
  return kept({ ...w, x: w.x + dx, y: w.y + dy }, sheet)
}

// Keeps some of the sheet in the window.
function kept(w: Window, sheet: Size): Window {
  const limit = (at: number, size: number, whole: number) => Math.min(Math.max(at, -size * 0.7), whole - size * 0.3)
  return { ...w, x: limit(w.x, w.width, sheet.width), y: limit(w.y, w.height, sheet.height) }
}

// Moves the window as little as shows a box, with some air round it.
export function showing(w: Window, sheet: Size, box: Window): Window {
  const air = 0.1 * w.width
  const along = (at: number, size: number, from: number, length: number) => {
    if (length + 2 * air > size) return from + length / 2 - size / 2
    return Math.min(Math.max(at, from + length + air - size), from - air)
  }
  return kept({ ...w, x: along(w.x, w.width, box.x, box.width), y: along(w.y, w.height, box.y, box.height) }, sheet)
}
