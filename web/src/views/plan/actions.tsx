// What can be done with the walls selected.

import { useState } from 'preact/hooks'
import type { Wall } from '../../core/plan.ts'
import { copyWalls, joinWalls, mirrorWalls, moveWalls, removeWalls, reverseWalls, splitWall, turnWalls } from '../../editor/commands.ts'
import { clicked, level, run, say } from '../../editor/session.ts'
import { linePoints, wallLength } from '../../geometry/body.ts'
import { moved } from '../../geometry/walls.ts'
import { boxOf } from '../../geometry/vec.ts'
import type { Point, Segment } from '../../geometry/vec.ts'
import { plan } from '../../state.ts'
import { refine } from '../../route.ts'
import { t } from '../../show.ts'
import { CheckField, LengthField, SelectField } from './fields.tsx'

export function Actions({ walls }: { walls: readonly Wall[] }) {
  const p = plan.value
  const ids = walls.map((w) => w.id)
  const one = walls.length === 1 ? walls[0] : undefined
  const two = walls.length === 2
  if (!p) return null
  return (
    <>
      <Move ids={ids} />
      <Mirror walls={walls} />
      <div class="buttons">
        <button onClick={() => run(turnWalls(p, say, ids, middleOf(walls), 90))}>{t('do.turn')}</button>
        <button onClick={() => run(reverseWalls(p, say, ids))} title={t('do.reverse.what')}>{t('do.reverse')}</button>
        {two && <button onClick={() => run(joinWalls(p, say, ids[0] ?? '', ids[1] ?? ''))}>{t('do.join')}</button>}
        <button class="danger" onClick={() => run(removeWalls(p, say, ids))}>{t('do.remove')}</button>
      </div>
      {one && <Split wall={one} />}
      {p.levels.length > 1 && <CopyTo ids={ids} />}
    </>
  )
}

function middleOf(walls: readonly Wall[]): Point {
  const b = boxOf(walls.flatMap(linePoints))
  return [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2]
}

function Move({ ids }: { ids: readonly string[] }) {
  const [x, setX] = useState<number | undefined>(undefined)
  const [y, setY] = useState<number | undefined>(undefined)
  const [alone, setAlone] = useState(false)
  const by: Point = [x ?? 0, y ?? 0]
  const p = plan.value
  return (
    <fieldset class="inline">
      <legend>{t('do.move')}</legend>
      <LengthField label={t('do.east')} value={x} hint="0" onChange={setX} />
      <LengthField label={t('do.north')} value={y} hint="0" onChange={setY} />
      <CheckField label={t('do.alone')} value={alone} onChange={(v) => setAlone(v === true)} />
      <div class="buttons">
        <button disabled={by[0] === 0 && by[1] === 0} onClick={() => p && run(moveWalls(p, say, ids, by, alone))}>{t('do.move')}</button>
        <button disabled={by[0] === 0 && by[1] === 0} onClick={() => p && run(copyWalls(p, say, ids, level.value, (w) => moved(w, by)))}>
          {t('do.copy')}
        </button>
      </div>
    </fieldset>
  )
}

function Mirror({ walls }: { walls: readonly Wall[] }) {
  const [keep, setKeep] = useState(true)
  const p = plan.value
  const b = boxOf(walls.flatMap(linePoints))
  const ids = walls.map((w) => w.id)
  const axes: Record<string, Segment> = {
    east: [[b.x1, 0], [b.x1, 1]],
    west: [[b.x0, 0], [b.x0, 1]],
    north: [[0, b.y1], [1, b.y1]],
    south: [[0, b.y0], [1, b.y0]],
  }
  return (
    <fieldset class="inline">
      <legend>{t('do.mirror')}</legend>
      <div class="buttons">
        {Object.entries(axes).map(([side, axis]) => (
          <button onClick={() => p && run(mirrorWalls(p, say, ids, axis, keep))}>{t(`do.mirror.${side}`)}</button>
        ))}
      </div>
      <CheckField label={t('do.mirror.keep')} value={keep} onChange={(v) => setKeep(v === true)} />
    </fieldset>
  )
}

function Split({ wall }: { wall: Wall }) {
  const here = clicked.value?.wall === wall.id ? Math.round(clicked.value.u) : Math.round(wallLength(wall) / 2)
  const [at, setAt] = useState<number | undefined>(undefined)
  const p = plan.value
  return (
    <fieldset class="inline">
      <legend>{t('do.split')}</legend>
      <LengthField label={t('do.split.at')} value={at ?? here} onChange={setAt} />
      <div class="buttons">
        <button onClick={() => p && run(splitWall(p, say, wall.id, at ?? here))}>{t('do.split')}</button>
      </div>
    </fieldset>
  )
}

function CopyTo({ ids }: { ids: readonly string[] }) {
  const p = plan.value
  const others = p?.levels.filter((l) => l.id !== level.value) ?? []
  const [to, setTo] = useState<string | undefined>(others[0]?.id)
  const copy = () => {
    if (!p || !to) return
    refine({ level: to })
    run(copyWalls(p, say, ids, to, (w) => w))
  }
  return (
    <fieldset class="inline">
      <legend>{t('do.copyto')}</legend>
      <SelectField label={t('do.level')} value={to} options={others.map((l) => [l.id, `${l.id} ${l.name ?? ''}`] as const)} onChange={setTo} />
      <div class="buttons">
        <button onClick={copy}>{t('do.copy')}</button>
      </div>
    </fieldset>
  )
}
