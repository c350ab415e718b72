// Net quantities of the project, a level or a wall, by groups as a bill is read.

import { useMemo, useState } from 'preact/hooks'
import { plan, project } from '../../state.ts'
import { href } from '../../route.ts'
import { number, t, word } from '../../show.ts'
import { Downloads } from '../common/export.tsx'
import { useLoaded } from '../common/load.ts'
import { measured, unitName } from '../common/measures.ts'
import { Table } from '../common/table.tsx'
import { Loading } from '../common/waiting.tsx'
import { productName } from '../common/words.ts'
import type { Takeoff, TakeoffLine } from './types.ts'

export function TakeoffView() {
  return <Loading of={useLoaded<Takeoff>('takeoff')}>{(of) => <Quantities of={of} />}</Loading>
}

function Quantities({ of }: { of: Takeoff }) {
  const [level, setLevel] = useState('')
  const [wall, setWall] = useState('')
  const [group, setGroup] = useState('')
  const walls = of.walls?.filter((w) => level === '' || w.level === level) ?? []
  const lines = (wall !== '' ? walls.find((w) => w.wall === wall)?.lines : level !== '' ? of.levels.find((l) => l.level === level)?.lines : of.total) ?? []
  const groups = useMemo(() => [...new Set(of.total?.map((l) => l.group))], [of])
  const rows = lines.filter((l) => group === '' || l.group === group)
  const digits = (l: TakeoffLine) => (l.unit === 'pcs' ? 0 : 1)
  return (
    <>
      <form class="filters" aria-label={t('material.filter')} onSubmit={(e) => e.preventDefault()}>
        <label>
          {t('material.level')}
          <select value={level} onChange={(e) => { setLevel(e.currentTarget.value); setWall('') }}>
            <option value="">{t('material.project')}</option>
            {plan.value?.levels.map((l) => <option value={l.id}>{l.name || l.id}</option>)}
          </select>
        </label>
        <label>
          {t('material.wall')}
          <select value={wall} onChange={(e) => setWall(e.currentTarget.value)}>
            <option value="">{t('material.walls.all')}</option>
            {walls.map((w) => <option value={w.wall}>{w.wall}</option>)}
          </select>
        </label>
        <label>
          {t('material.group')}
          <select value={group} onChange={(e) => setGroup(e.currentTarget.value)}>
            <option value="">{t('material.groups.all')}</option>
            {groups.map((g) => <option value={g}>{word('group', g)}</option>)}
          </select>
        </label>
        {wall && <a href={href(project.value?.id ?? null, 'wall', { wall })}>{t('wall.title', { wall })}</a>}
      </form>
      <Table
        caption={t('material.takeoff')} rows={rows} id={(l) => `${l.group} ${l.code} ${l.unit}`}
        columns={[
          { id: 'group', head: t('material.group'), by: (l) => groups.indexOf(l.group), cell: (l) => word('group', l.group) },
          { id: 'name', head: t('material.name'), by: (l) => l.name, cell: (l) => productName(l.name) },
          { id: 'quantity', head: t('material.quantity'), number: true, by: (l) => l.quantity, cell: (l) => number(measured(l.quantity, l.unit).value, digits(l)) },
          { id: 'unit', head: t('material.unit'), cell: (l) => unitName(measured(l.quantity, l.unit).unit) },
          { id: 'pieces', head: t('material.pieces'), number: true, by: (l) => l.pieces ?? 0, cell: (l) => (l.pieces ? number(l.pieces) : '') },
          { id: 'mass', head: `${t('material.mass')}, ${measured(1, 'kg').unit}`, number: true, by: (l) => l.mass ?? 0, cell: (l) => (l.mass ? number(measured(l.mass, 'kg').value, 1) : '') },
        ]}
      />
      <p class="quiet padded">{t('material.net')}</p>
      <Downloads kind="takeoff" />
    </>
  )
}
