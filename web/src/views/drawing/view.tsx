// A drawing as it was read: the drawing in the middle with what was recognised over
// it, the list of it beside, to be accepted, refused or mended before it is taken in.

import { useEffect, useRef, useState } from 'preact/hooks'
import { incoming, isDrawing } from '../../incoming.ts'
import { go, href, route } from '../../route.ts'
import { Findings } from '../../shell/findings.tsx'
import { t } from '../../show.ts'
import { About, load } from './about.tsx'
import { Canvas } from './canvas.tsx'
import { Detail } from './detail.tsx'
import { itemKey } from './hand.ts'
import { LeftOver } from './leftover.tsx'
import { List } from './list.tsx'
import { busy, canRedo, canUndo, firstLine, fit, forget, items, read, reading, redo, tool, undo, unread } from './session.ts'
import type { Tool } from './session.ts'
import { TakeIn } from './take.tsx'

const tools: readonly Tool[] = ['pick', 'lines', 'door']

let shown: File | null = null

export default function DrawingView() {
  const file = incoming.value
  useEffect(() => {
    if (!file || file === shown) return
    shown = file
    void read(file, {}, true)
  }, [file])
  useEffect(() => {
    const keys = (e: KeyboardEvent) => {
      const field = e.target instanceof HTMLElement && e.target.matches('input, textarea, select')
      if (!field && !e.defaultPrevented && (e.ctrlKey || e.metaKey) && itemKey(e)) e.preventDefault()
    }
    addEventListener('keydown', keys)
    return () => removeEventListener('keydown', keys)
  }, [])
  return (
    <div class="read" onDragOver={(e) => e.preventDefault()} onDrop={dropped}>
      {reading.value ? <Read /> : <Waiting />}
    </div>
  )
}

function dropped(e: DragEvent): void {
  e.preventDefault()
  for (const f of e.dataTransfer?.files ?? []) takeFile(f)
}

function takeFile(f: File): void {
  if (isDrawing(f)) incoming.value = f
  else if (/\.ya?ml$/i.test(f.name)) void load(f)
}

function Waiting() {
  const wrong = unread.value
  return (
    <div class="read-waiting" aria-busy={busy.value}>
      {busy.value && <p role="status">{t('list.reading', { file: incoming.value?.name ?? '' })}</p>}
      {wrong && !busy.value && (
        <>
          <h1>{t('list.notread', { file: incoming.value?.name ?? '' })}</h1>
          <p class="error">{wrong.detail}</p>
          <Findings of={wrong.findings} />
        </>
      )}
      {!busy.value && <PickFile />}
    </div>
  )
}

function PickFile() {
  const input = useRef<HTMLInputElement>(null)
  return (
    <p>
      <label class="entry file">
        <span>{t('drawing.file')}</span>
        <input
          ref={input}
          type="file"
          accept=".dxf"
          onChange={() => {
            const f = input.current?.files?.[0]
            if (f) takeFile(f)
          }}
        />
      </label>
    </p>
  )
}

function Read() {
  const r = reading.value
  const [taking, setTaking] = useState(false)
  if (!r) return null
  const taken = items.value.filter((i) => i.standing === 'taken').length
  return (
    <>
      <div class="toolbar">
        <b class="read-name">{incoming.value?.name}</b>
        <div class="tools" role="group" aria-label={t('drawing.tools')}>
          {tools.map((x) => (
            <button aria-pressed={tool.value === x} title={t(`drawing.tool.${x}.what`)} onClick={() => ((tool.value = x), (firstLine.value = null))}>
              {t(`drawing.tool.${x}`)}
            </button>
          ))}
        </div>
        <button onClick={undo} disabled={!canUndo.value} aria-keyshortcuts="Control+Z">{t('shell.undo')}</button>
        <button onClick={redo} disabled={!canRedo.value} aria-keyshortcuts="Control+Y">{t('shell.redo')}</button>
        <button onClick={fit} aria-keyshortcuts="F">{t('drawing.fit')}</button>
        <span class="read-end">
          <button class="main" disabled={taken === 0} onClick={() => setTaking(true)}>{t('drawing.takein.n', { n: taken })}</button>
          <button onClick={leave}>{t('drawing.leave')}</button>
        </span>
      </div>
      <div class="read-middle" aria-busy={busy.value}>
        <Canvas />
      </div>
      <p class="statusline" role="status">
        {busy.value ? t('list.reading', { file: incoming.value?.name ?? '' }) : t(firstLine.value ? 'drawing.tool.lines.second' : `drawing.tool.${tool.value}.what`)}
      </p>
      <aside class="side" aria-label={t('drawing.side')}>
        <div class="read-about">
          <About of={r} />
          {tool.value === 'lines' && <LeftOver of={r} />}
        </div>
        <Detail />
        <List />
      </aside>
      {taking && <TakeIn onClose={() => setTaking(false)} />}
    </>
  )
}

function leave(): void {
  shown = null
  incoming.value = null
  forget()
  go(href(route.value.project))
}
