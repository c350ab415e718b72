// A drawing that was dropped or picked, on its way to the view that shows it: files
// are held here, since an address cannot carry them.

import { signal } from '@preact/signals'
import { go } from './route.ts'

export const incoming = signal<File | null>(null)

// A schedule or a list of measured points for the project that is open.
export const incomingTable = signal<File | null>(null)

export const isDrawing = (file: File): boolean => /\.dxf$/i.test(file.name)

// Takes a drawing or a table in hand for a project; whether it was one.
export function takeInHand(file: File, project: string | null): boolean {
  if (isDrawing(file)) showDrawing(file, project)
  else if (/\.(csv|xlsx)$/i.test(file.name)) incomingTable.value = file
  else return false
  return true
}

// Shows a drawing, to be taken into a project or, with none, as a new one.
export function showDrawing(file: File, project: string | null): void {
  incoming.value = file
  go(project === null ? '#/drawing' : `#/p/${encodeURIComponent(project)}/drawing`)
}
