// The side panel where nothing is selected: the level, its walls, what is wrong on
// it; and the dialog in which levels are made and changed.

import { useState } from 'preact/hooks'
import type { Level } from '../../core/plan.ts'
import { addLevel, put, removeLevel } from '../../editor/commands.ts'
import { choose, fit, level, run, say, scene } from '../../editor/session.ts'
import { Dialog } from '../../shell/dialog.tsx'
import { Findings } from '../../shell/findings.tsx'
import type { Finding } from '../../api.ts'
import { findings, plan } from '../../state.ts'
import { takeInHand } from '../../incoming.ts'
import { refine, route } from '../../route.ts'
import { lengthUnit, t } from '../../show.ts'
import { boxOf } from '../../geometry/vec.ts'
import { CheckField, LengthField, NumberField, SelectField, TextField, choices } from './fields.tsx'
import { openingName } from './names.ts'
import { Matrix } from './matrix.tsx'
import { Section } from './wallpanel.tsx'

export function LevelPanel() {
  const [matrix, setMatrix] = useState(false)
  const l = plan.value?.levels.find((x) => x.id === level.value)
  if (!l) return <p class="quiet">{t('plan.nolevel')}</p>
  const here = findings.value.filter((f) => onLevel(f))
  const walls = scene.value.walls
  return (
    <>
      <header class="side-head">
        <h2>{l.name ? `${l.id} ${l.name}` : l.id}</h2>
        <span class="quiet">{t('plan.clear', { height: lengthUnit(l.clear_height) })}</span>
      </header>
      {walls.length === 0 && <p class="quiet">{t('plan.empty')}</p>}
      <div class="buttons">
        <button onClick={() => setMatrix(true)}>{t('matrix.open')}</button>
      </div>
      <label class="entry file">
        <span title={t('intake.file.what')}>{t('intake.file')}</span>
        <input type="file" accept=".dxf,.csv,.xlsx" aria-description={t('intake.file.what')} onChange={taken} />
      </label>
      {matrix && <Matrix onClose={() => setMatrix(false)} />}
      <Section title={t('plan.section.findings', { n: here.length })}>
        <Findings of={here} onPick={show} />
      </Section>
      <Section title={t('plan.section.walls', { n: walls.length })} shut>
        <ul class="rows">
          {walls.slice(0, 500).map((w) => (
            <li>
              <button class="plain" onClick={() => show({ object: w.wall.id })}>{w.wall.id}</button>
              <span class="quiet">{w.wall.buildup}</span>
            </li>
          ))}
        </ul>
        {walls.length > 500 && <p class="quiet">{t('plan.more', { n: walls.length - 500 })}</p>}
      </Section>
    </>
  )
}

function taken(e: Event): void {
  const input = e.currentTarget as HTMLInputElement
  const f = input.files?.[0]
  if (f) takeInHand(f, route.value.project)
  input.value = ''
}

// Findings about things on other levels are told there; those about none, everywhere.
function onLevel(f: Finding): boolean {
  const p = plan.value
  const of = [...(p?.walls ?? []), ...(p?.structure ?? []), ...(p?.rooms ?? [])].find((o) => o.id === f.object || f.object?.startsWith(`${o.id}/`))
  return !of || of.level === level.value
}

function show(f: Pick<Finding, 'object'>): void {
  const w = scene.value.walls.find((x) => x.wall.id === f.object || x.wall.openings?.some((o, i) => openingName(x.wall.id, o, i) === f.object))
  if (!w) return
  choose([w.wall.id])
  const b = boxOf(w.outline)
  fit({ x0: b.x0 - 2000, y0: b.y0 - 2000, x1: b.x1 + 2000, y1: b.y1 + 2000 })
}

export function LevelsDialog({ onClose }: { onClose: () => void }) {
  const p = plan.value
  const [id, setId] = useState(level.value)
  const l = p?.levels.find((x) => x.id === id) ?? p?.levels[0]
  const add = () => {
    if (!p) return
    const made = addLevel(p, say)
    run(made)
    setId(made.changes[0]?.id ?? id)
  }
  return (
    <Dialog title={t('levels.title')} onClose={onClose} wide>
      <div class="levels">
        <div class="levels-list" role="group" aria-label={t('levels.title')}>
          {[...(p?.levels ?? [])].sort((a, b) => (b.elevation ?? 0) - (a.elevation ?? 0)).map((x) => (
            <button aria-pressed={x.id === l?.id} onClick={() => setId(x.id)}>
              {x.id} {x.name}
            </button>
          ))}
          <button class="plain" onClick={add}>{t('levels.add')}</button>
        </div>
        {l && <LevelFields key={l.id} of={l} />}
      </div>
      <div class="buttons">
        {l && <button class="main" onClick={() => (refine({ level: l.id }), onClose())}>{t('levels.show')}</button>}
        <button onClick={onClose}>{t('shell.close')}</button>
        {l && p && p.levels.length > 1 && (
          <button class="danger" onClick={() => run(removeLevel(p, say, l.id))}>
            {t('levels.remove', { id: l.id, n: p.walls.filter((w) => w.level === l.id).length })}
          </button>
        )}
      </div>
    </Dialog>
  )
}

function LevelFields({ of: l }: { of: Level }) {
  const change = (c: { [K in keyof Level]?: Level[K] | undefined }) => run(put(say, 'edit.level.change', 'levels', { ...l, ...c } as Level))
  return (
    <div class="entries two">
      <TextField label={t('level.name')} value={l.name} onChange={(name) => change({ name })} />
      <LengthField label={t('level.elevation')} value={l.elevation ?? 0} onChange={(elevation) => change({ elevation })} />
      <LengthField label={t('level.clear_height')} value={l.clear_height} onChange={(v) => v && change({ clear_height: v })} />
      <LengthField label={t('level.deflection')} value={l.deflection} hint="0" onChange={(deflection) => change({ deflection })} />
      <SelectField label={t('level.floor')} value={l.floor} none={t('field.notgiven')} options={choices('level.floor', ['concrete', 'screed', 'raised_floor', 'timber'])} onChange={(floor) => change({ floor })} />
      <SelectField label={t('level.soffit')} value={l.soffit} none={t('field.notgiven')} options={choices('level.soffit', ['concrete', 'metal_deck', 'steel', 'timber'])} onChange={(soffit) => change({ soffit })} />
      <LengthField label={t('level.floor_depth')} value={l.floor_depth} onChange={(floor_depth) => change({ floor_depth })} />
      <CheckField label={t('level.floor_parted')} value={l.floor_parted} onChange={(floor_parted) => change({ floor_parted })} />
      <NumberField label={t('level.imposed')} value={l.imposed} unit="kN/m²" onChange={(imposed) => change({ imposed })} />
      <NumberField label={t('level.partitions')} value={l.partitions} unit="kN/m²" onChange={(partitions) => change({ partitions })} />
    </div>
  )
}
