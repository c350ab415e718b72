// Gives one wall or many the build-up chosen.

import { useState } from 'preact/hooks'
import { Dialog } from '../../shell/dialog.tsx'
import { plan, selection } from '../../state.ts'
import { edit } from '../../sync.ts'
import { t } from '../../show.ts'
import { applied, freshName, sameAs } from './apply.ts'
import type { Candidate } from './types.ts'

export function Apply({ candidate: c, wall, onClose }: { candidate: Candidate; wall: string; onClose: () => void }) {
  const p = plan.value
  const there = p ? sameAs(p, c.build_up) : undefined
  const [name, setName] = useState(() => (p ? there?.id ?? freshName(p, c.measures.thickness ?? 0) : ''))
  const [walls, setWalls] = useState<ReadonlySet<string>>(() => new Set([wall, ...selection.value]))
  if (!p) return null
  const now = p.walls.find((w) => w.id === wall)?.buildup
  const alike = p.walls.filter((w) => w.buildup === now && now !== undefined)
  const taken = !there && (p.buildups ?? []).some((b) => b.id === name)
  const give = () => {
    edit(applied(p, c.build_up, name, [...walls], t('choice.label', { name, n: walls.size })))
    onClose()
  }
  const toggle = (id: string) => {
    const next = new Set(walls)
    if (!next.delete(id)) next.add(id)
    setWalls(next)
  }
  return (
    <Dialog title={t('choice.give.title')} onClose={onClose}>
      <p lang="en"><b>{c.words}</b></p>
      <label class="ask">
        {t('choice.name')}
        <input value={name} disabled={there !== undefined} aria-invalid={taken || name === ''} onInput={(e) => setName(e.currentTarget.value.trim())} />
      </label>
      {there && <p class="quiet">{t('choice.there', { name: there.id })}</p>}
      {taken && <p class="error" role="alert">{t('choice.taken', { name })}</p>}
      <div class="buttons">
        <button onClick={() => setWalls(new Set([wall]))}>{t('choice.only', { wall })}</button>
        {alike.length > 1 && <button onClick={() => setWalls(new Set(alike.map((w) => w.id)))}>{t('choice.alike', { n: alike.length, name: now ?? '' })}</button>}
      </div>
      <fieldset class="wall-ticks">
        <legend>{t('choice.walls', { n: walls.size })}</legend>
        {p.walls.map((w) => (
          <label>
            <input type="checkbox" checked={walls.has(w.id)} onChange={() => toggle(w.id)} /> {w.id} <span class="quiet">{w.buildup}</span>
          </label>
        ))}
      </fieldset>
      <div class="buttons">
        <button class="main" disabled={walls.size === 0 || taken || name === ''} onClick={give}>{t('choice.give.do', { n: walls.size })}</button>
        <button onClick={onClose}>{t('shell.cancel')}</button>
      </div>
    </Dialog>
  )
}
