// The side panels of tools: how new walls, openings and structure are to be, and
// what the brush asks.

import type { Demands, Opening } from '../../core/plan.ts'
import { brush, drawing, level, openingLike, structureLike, tool, wallLike } from '../../editor/session.ts'
import { foundRooms, paintSelected, step, takeRooms } from '../../editor/tools.ts'
import { plan, selection } from '../../state.ts'
import { lengthUnit, t } from '../../show.ts'
import { run, say } from '../../editor/session.ts'
import { useState } from 'preact/hooks'
import { BuildUpDialog, buildUpOptions, madeOf } from './buildup.tsx'
import { DemandFields, asked } from './demands.tsx'
import { CheckField, LengthField, SelectField, choices } from './fields.tsx'
import { OpeningFields, StructureFields } from './otherpanels.tsx'
import { UnderlayPanel } from './underlaypanel.tsx'

export function ToolPanel() {
  switch (tool.value) {
    case 'wall':
      return <NewWall />
    case 'opening':
      return <NewOpening />
    case 'structure':
      return <NewStructure />
    case 'room':
      return <NewRoom />
    case 'paint':
      return <Brush />
    case 'underlay':
      return <UnderlayPanel />
    default:
      return null
  }
}

function Head() {
  return (
    <>
      <header class="side-head">
        <h2>{t(`tool.${tool.value}.title`)}</h2>
      </header>
      <p class="quiet">{t(`tool.${tool.value}.what`)}</p>
    </>
  )
}

function NewWall() {
  const [making, setMaking] = useState(false)
  const p = plan.value
  const like = wallLike.value
  const id = like.buildup ?? p?.buildups?.[0]?.id
  const one = p?.buildups?.find((b) => b.id === id)
  return (
    <>
      <Head />
      {drawing.value.curved && <p class="quiet">{t('tool.wall.curved')}</p>}
      <div class="entries">
        <CheckField label={t('walls.curve')} value={drawing.value.curved} onChange={(on) => step({ type: 'curved', on: on === true })} />
        <SelectField label={t('walls.buildup')} value={id} none={t('walls.buildup.none')} options={buildUpOptions()} onChange={(v) => (wallLike.value = { ...like, buildup: v ?? '' })} />
        {one && <p class="quiet made-of">{madeOf(one)}</p>}
        <button class="plain" onClick={() => setMaking(true)}>{t('buildup.new')}</button>
        <SelectField label={t('walls.justify')} value={like.justify} none={t('walls.justify.centre')} options={choices('walls.justify', ['face_a', 'face_b'])} onChange={(v) => (wallLike.value = { ...like, justify: v ?? '' })} />
        <LengthField label={t('walls.height')} value={like.height} hint={lengthUnit(p?.levels.find((l) => l.id === level.value)?.clear_height ?? 0)} onChange={(v) => (wallLike.value = { ...like, height: v ?? 0 })} />
      </div>
      {making && (
        <BuildUpDialog
          like={one}
          onClose={() => setMaking(false)}
          onMade={(b) => {
            run({ label: say('edit.buildup.add', { id: b.id }), changes: [{ kind: 'buildups', id: b.id, value: b }] })
            wallLike.value = { ...wallLike.value, buildup: b.id }
            setMaking(false)
          }}
        />
      )}
    </>
  )
}

const sizes: Record<string, Partial<Opening>> = {
  door: { width: 885, height: 2130, leaf_mass: 25 },
  window: { width: 1200, height: 1200, sill: 900 },
  hatch: { width: 500, height: 500, sill: 400, leaf_mass: 12 },
  bare: { width: 1000, height: 2130 },
  penetration: { width: 300, height: 250, sill: 2300, service: 'duct' },
}

function NewOpening() {
  const change = (c: Partial<Opening>) => (openingLike.value = c.kind && c.kind !== openingLike.value.kind ? ({ at: 0, kind: c.kind, ...sizes[c.kind] } as Opening) : { ...openingLike.value, ...c })
  return (
    <>
      <Head />
      <div class="entries">
        <OpeningFields of={openingLike.value} placed={false} onChange={change} />
      </div>
    </>
  )
}

function NewStructure() {
  const s = structureLike.value
  const column = s.kind === 'column' || s.kind === 'post'
  return (
    <>
      <Head />
      <div class="entries">
        <StructureFields of={column ? { kind: s.kind, material: s.material } : { ...s, line: [] }} onChange={(c) => (structureLike.value = { ...s, ...(c as Partial<typeof s>) })} />
        {column && <LengthField label={t('structure.width')} value={s.width} onChange={(v) => v && (structureLike.value = { ...s, width: v })} />}
        {column && <LengthField label={t('structure.depth')} value={s.depth} onChange={(v) => v && (structureLike.value = { ...s, depth: v })} />}
      </div>
    </>
  )
}

function NewRoom() {
  const n = foundRooms.value.length
  return (
    <>
      <Head />
      <p role="status">{t('room.found', { n })}</p>
      <div class="buttons">
        <button disabled={n === 0} onClick={() => takeRooms(foundRooms.value)}>{t('room.takeall')}</button>
      </div>
    </>
  )
}

function Brush() {
  const n = selection.value.length
  const set = (key: keyof Demands, v: string | number | undefined) => {
    const { [key]: _, ...rest } = brush.value
    brush.value = v === undefined ? rest : { ...rest, [key]: v }
  }
  const nothing = Object.keys(brush.value).length === 0
  return (
    <>
      <Head />
      <div class="entries">
        <DemandFields of={brush.value} onChange={set} />
      </div>
      <p class="quiet">{nothing ? t('paint.nothing') : t('paint.asks', { asked: asked(brush.value) })}</p>
      <div class="buttons">
        <button disabled={n === 0 || nothing} onClick={paintSelected}>{t('paint.selected', { n })}</button>
      </div>
    </>
  )
}
