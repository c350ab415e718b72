// The side panels of an opening, of existing structure and of a room.

import type { Opening, Room, Structure } from '../../core/plan.ts'
import { drop, put, withOpenings } from '../../editor/commands.ts'
import { choose, picked, run, say } from '../../editor/session.ts'
import { removePicked } from '../../editor/keys.ts'
import { roomArea } from '../../geometry/rooms.ts'
import { findings, plan } from '../../state.ts'
import { area, t, word } from '../../show.ts'
import { Findings } from '../../shell/findings.tsx'
import { LengthField, NumberField, SelectField, TextField, choices } from './fields.tsx'
import { wetClasses } from './demands.tsx'
import { openingName } from './names.ts'
import { usesOf } from './uses.ts'

export const openingKinds = ['door', 'window', 'hatch', 'bare', 'penetration']

export function OpeningFields(p: { of: Opening; placed: boolean; onChange: (c: Partial<Opening>) => void }) {
  const o = p.of
  const set = <K extends keyof Opening>(k: K) => (v: Opening[K] | undefined) => p.onChange({ [k]: v } as Partial<Opening>)
  return (
    <>
      <SelectField label={t('opening.kind')} value={o.kind} options={choices('opening', openingKinds)} onChange={(v) => v && p.onChange({ kind: v })} />
      {p.placed && <LengthField label={t('opening.from')} value={o.at} onChange={(v) => v !== undefined && p.onChange({ at: v })} />}
      <LengthField label={t('opening.width')} value={o.width} onChange={(v) => v && p.onChange({ width: v })} />
      <LengthField label={t('opening.height')} value={o.height} onChange={(v) => v && p.onChange({ height: v })} />
      {o.kind !== 'door' && <LengthField label={t('opening.sill')} value={o.sill} hint="0" onChange={set('sill')} />}
      {(o.kind === 'door' || o.kind === 'hatch') && <NumberField label={t('opening.leaf_mass')} value={o.leaf_mass} unit="kg" onChange={set('leaf_mass')} />}
      {o.kind === 'door' && <SelectField label={t('opening.pocket')} value={o.pocket} none={t('opening.pocket.none')} options={choices('opening.pocket', ['start', 'end'])} onChange={set('pocket')} />}
      {(o.kind === 'door' || o.kind === 'window') && <TextField label={t('opening.sound')} value={o.sound} hint="Rw 32" onChange={set('sound')} />}
      {o.kind === 'penetration' && <SelectField label={t('opening.service')} value={o.service} none="–" options={choices('opening.service', ['pipe', 'plastic_pipe', 'duct', 'cable'])} onChange={set('service')} />}
      {o.kind === 'penetration' && <LengthField label={t('opening.diameter')} value={o.diameter} onChange={set('diameter')} />}
    </>
  )
}

export function OpeningPanel({ wall, index }: { wall: string; index: number }) {
  const p = plan.value
  const o = p?.walls.find((w) => w.id === wall)?.openings?.[index]
  if (!p || !o) return null
  const name = openingName(wall, o, index)
  const change = (c: Partial<Opening>) => run(withOpenings(p, say, 'edit.opening.change', wall, (all) => all.map((x, i) => (i === index ? { ...x, ...c } : x))))
  return (
    <>
      <header class="side-head">
        <h2>{t(`opening.${o.kind}`)} {o.id ?? ''}</h2>
        <button class="plain" onClick={() => choose([wall])}>{t('plan.wall', { id: wall })}</button>
      </header>
      <Findings of={findings.value.filter((f) => f.object === name)} />
      <div class="entries">
        <OpeningFields of={o} placed onChange={change} />
      </div>
      <div class="buttons">
        <button class="danger" onClick={removePicked}>{t('do.remove')}</button>
      </div>
    </>
  )
}

export function StructurePanel({ id }: { id: string }) {
  const s = plan.value?.structure?.find((x) => x.id === id)
  if (!s) return null
  const change = (c: Partial<Structure>) => run(put(say, 'edit.structure.change', 'structure', { ...s, ...c }))
  return (
    <>
      <header class="side-head">
        <h2>{t('plan.structure', { id })}</h2>
      </header>
      <Findings of={findings.value.filter((f) => f.object === id)} />
      <div class="entries">
        <StructureFields of={s} onChange={change} />
      </div>
      <div class="buttons">
        <button class="danger" onClick={() => (run(drop(say, 'edit.structure.remove', 'structure', id)), (picked.value = null))}>{t('do.remove')}</button>
      </div>
    </>
  )
}

export function StructureFields(p: { of: Pick<Structure, 'kind' | 'material' | 'thickness' | 'line'>; onChange: (c: Partial<Structure>) => void }) {
  return (
    <>
      <SelectField label={t('structure.kind')} value={p.of.kind} options={choices('structure.kind', ['wall', 'column', 'facade', 'post', 'other'])} onChange={(v) => v && p.onChange({ kind: v })} />
      <SelectField label={t('structure.material')} value={p.of.material} options={choices('structure.material', ['concrete', 'masonry', 'steel', 'timber', 'glass'])} onChange={(v) => v && p.onChange({ material: v })} />
      {p.of.line && <LengthField label={t('structure.thickness')} value={p.of.thickness} onChange={(v) => v && p.onChange({ thickness: v })} />}
    </>
  )
}

export function RoomPanel({ id }: { id: string }) {
  const r = plan.value?.rooms?.find((x) => x.id === id)
  if (!r) return null
  const change = (c: Partial<Room>) => run(put(say, 'edit.room.change', 'rooms', { ...r, ...c }))
  return (
    <>
      <header class="side-head">
        <h2>{r.name || t('plan.room', { id })}</h2>
        <span class="quiet">{area(roomArea(r))}</span>
      </header>
      <Findings of={findings.value.filter((f) => f.object === id)} />
      <div class="entries">
        <TextField label={t('room.name')} value={r.name} onChange={(v) => change({ name: v ?? '' })} />
        <TextField label={t('room.use')} value={r.use} list={usesOf(plan.value)} onChange={(v) => change({ use: v } as Partial<Room>)} />
        <SelectField label={t('room.wet')} value={r.wet} none={t('room.wet.none')} options={wetClasses.map((w) => [w, w] as const)} onChange={(v) => change({ wet: v } as Partial<Room>)} />
        {r.use && <p class="quiet">{word('use', r.use)}</p>}
      </div>
      <div class="buttons">
        <button class="danger" onClick={removePicked}>{t('do.remove')}</button>
      </div>
    </>
  )
}
