// A modal dialog by the browser's own element: it keeps the focus inside, closes
// with Escape and gives the focus back.

import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'

export function Dialog(p: { title: string; onClose?: () => void; wide?: boolean; children: ComponentChildren }) {
  const ref = useRef<HTMLDialogElement>(null)
  useEffect(() => {
    const d = ref.current
    if (d && !d.open) d.showModal()
    return () => d?.close()
  }, [])
  const cancel = (e: Event) => {
    e.preventDefault()
    p.onClose?.()
  }
  return (
    <dialog ref={ref} class={p.wide ? 'wide' : ''} onCancel={cancel} aria-label={p.title}>
      <h2>{p.title}</h2>
      {p.children}
    </dialog>
  )
}
