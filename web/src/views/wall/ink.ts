// Turns the black and white of the server's drawings into the ink and paper of the
// page, so that they can be read in the dark.

const grey = /^#([0-9a-f]{2})\1\1$|^#([0-9a-f])\2\2$/i

// How much ink a grey is, in per cent; null for what is no grey.
export function inkOf(colour: string | null): number | null {
  const m = colour === null ? null : grey.exec(colour)
  if (!m) return null
  const level = parseInt(m[1] ?? `${m[2]}${m[2]}`, 16)
  return Math.round((1 - level / 255) * 100)
}

// Reads a drawing and makes it fit the page: no sheet of its own, inks of the page,
// no tooltips of its own. Null where the text is no drawing.
export function inked(text: string): SVGSVGElement | null {
  const root = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement
  if (!(root instanceof SVGSVGElement)) return null
  root.querySelector(':scope > rect')?.remove()
  for (const title of root.querySelectorAll('title')) title.remove()
  for (const e of root.querySelectorAll<SVGElement>('[fill], [stroke]')) {
    for (const property of ['fill', 'stroke'] as const) {
      const ink = inkOf(e.getAttribute(property))
      if (ink !== null) e.style[property] = `color-mix(in srgb, var(--ink) ${ink}%, var(--paper))`
    }
  }
  root.removeAttribute('width')
  root.removeAttribute('height')
  return document.importNode(root, true)
}
