// A drawing that was dropped or picked, on its way to the view that shows it: files
// are held here, since an address cannot carry them.

import { signal } from '@preact/signals'
import { go } from './route.ts'

export const incoming = signal<File | null>(null)

export const isDrawing = (file: File): boolean => /\.dxf$/i.test(file.name)

// Shows a drawing, to be taken into a project or, with none, as a new one.
export function showDrawing(file: File, project: string | null): void {
  incoming.value = file
  go(project === null ? '#/drawing' : `#/p/${encodeURIComponent(project)}/drawing`)
}
