// Taking in what was accepted: as a project of its own, or on a level of the one
// that is open.

import { useState } from 'preact/hooks'
import { api } from '../../api.ts'
import type { Level } from '../../core/plan.ts'
import { incoming } from '../../incoming.ts'
import { go, href } from '../../route.ts'
import { Dialog } from '../../shell/dialog.tsx'
import { Findings } from '../../shell/findings.tsx'
import type { Finding } from '../../api.ts'
import { lengthUnit, readLength, t } from '../../show.ts'
import { project } from '../../state.ts'
import { edit, failed } from '../../sync.ts'
import { forget, items, reading } from './session.ts'
import { changesOf, nextLevel, planOf } from './takein.ts'

export function TakeIn({ onClose }: { onClose: () => void }) {
  const plan = project.value?.shown
  const file = incoming.value?.name ?? ''
  const [where, setWhere] = useState(plan ? 'level' : 'project')
  const [name, setName] = useState(file.replace(/\.dxf$/i, ''))
  const [height, setHeight] = useState(lengthUnit(reading.value?.plan.levels[0]?.clear_height ?? 2750))
  const [told, setTold] = useState<{ id: string; findings: Finding[] } | null>(null)
  const [busy, setBusy] = useState(false)
  const mm = readLength(height)
  const taken = items.value.filter((i) => i.standing === 'taken')
  const open = items.value.filter((i) => i.standing === 'open').length
  const existing = plan?.levels.find((l) => l.id === where)
  const submit = async (e: SubmitEvent) => {
    e.preventDefault()
    if (mm === null || mm <= 0) return
    setBusy(true)
    try {
      if (where !== 'project') return onLevel(existing ?? newLevel(name, mm), file)
      const made = await asProject(name, mm)
      if (made.findings.length === 0) return done(href(made.id))
      setTold(made)
    } catch (x) {
      failed(x)
    } finally {
      setBusy(false)
    }
  }
  if (told) {
    return (
      <Dialog title={t('list.read', { file })} onClose={() => done(href(told.id))} wide>
        <Findings of={told.findings} />
        <div class="buttons">
          <button class="main" onClick={() => done(href(told.id))}>{t('list.open')}</button>
        </div>
      </Dialog>
    )
  }
  return (
    <Dialog title={t('drawing.takein.title')} onClose={onClose}>
      <form onSubmit={(e) => void submit(e)}>
        <p>{t('drawing.takein.what', { n: taken.length })}</p>
        {open > 0 && <p class="quiet">{t('drawing.takein.open', { n: open })}</p>}
        {plan && (
          <label class="entry">
            <span>{t('drawing.takein.where')}</span>
            <select value={where} onChange={(e) => setWhere((e.currentTarget as HTMLSelectElement).value)}>
              <option value="level">{t('drawing.takein.level')}</option>
              {plan.levels.map((l) => (
                <option value={l.id}>{t('drawing.takein.onto', { level: l.name ? `${l.id} ${l.name}` : l.id })}</option>
              ))}
              <option value="project">{t('drawing.takein.project')}</option>
            </select>
          </label>
        )}
        {!existing && (
          <>
            <label class="entry">
              <span>{t(where === 'project' ? 'drawing.takein.name' : 'drawing.takein.levelname')}</span>
              <input value={name} maxLength={200} onInput={(e) => setName((e.currentTarget as HTMLInputElement).value)} />
            </label>
            <label class="entry">
              <span>{t('drawing.takein.height')}</span>
              <input value={height} aria-invalid={mm === null || mm <= 0} onInput={(e) => setHeight((e.currentTarget as HTMLInputElement).value)} />
            </label>
          </>
        )}
        <div class="buttons">
          <button class="main" disabled={busy || taken.length === 0 || (!existing && (mm === null || mm <= 0))}>{t('drawing.takein')}</button>
          <button type="button" onClick={onClose}>{t('shell.cancel')}</button>
        </div>
      </form>
    </Dialog>
  )
}

function newLevel(name: string, height: number): Level {
  const plan = project.value?.shown
  const top = [...(plan?.levels ?? [])].sort((a, b) => (b.elevation ?? 0) - (a.elevation ?? 0))[0]
  const id = plan ? nextLevel(plan) : 'L0'
  return { id, clear_height: height, ...(name.trim() ? { name: name.trim() } : {}), ...(top ? { elevation: (top.elevation ?? 0) + top.clear_height + 300 } : {}) }
}

function onLevel(level: Level, file: string): void {
  const s = project.value
  if (!s) return
  edit({ label: t('drawing.edit', { file, level: level.id }), changes: changesOf(items.value, s.shown, level) })
  done(href(s.id, 'plan', { level: level.id }))
}

async function asProject(name: string, height: number): Promise<{ id: string; findings: Finding[] }> {
  const plan = planOf(items.value, { name: name.trim(), practice: reading.value?.plan.practice ?? 'metric', level: { id: 'L0', clear_height: height } })
  const { id, findings } = await api.import(new File([JSON.stringify(plan)], `${name.trim() || 'drawing'}.json`))
  return { id, findings: (findings ?? []).filter((f) => f.severity === 'error' || f.severity === 'warning') }
}

function done(to: string): void {
  incoming.value = null
  forget()
  go(to)
}
