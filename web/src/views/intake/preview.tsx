// The values that a schedule changes, and the places at which a building differs.

import { number, length, t } from '../../show.ts'
import { units } from '../../preferences.ts'
import { Table } from '../common/table.tsx'
import type { Column } from '../common/table.tsx'
import type { Changing, Deviation } from './types.ts'

export function Changed({ of }: { of: Changing[] }) {
  if (of.length === 0) return <p role="status">{t('intake.changes.none')}</p>
  const columns: Column<Changing>[] = [
    { id: 'object', head: t('intake.object'), cell: (c) => c.object, by: (c) => c.object },
    { id: 'field', head: t('intake.field'), cell: (c) => t(`intake.field.${c.field}`), by: (c) => c.field },
    { id: 'was', head: t('intake.was'), cell: (c) => c.was || '–' },
    { id: 'is', head: t('intake.is'), cell: (c) => c.is },
  ]
  return (
    <>
      <h3>{t('intake.changes', { n: of.length })}</h3>
      <Table caption={t('intake.changes', { n: of.length })} columns={columns} rows={of} id={(c) => `${c.object} ${c.field}`} />
    </>
  )
}

export function Deviating({ of, tolerance }: { of: Deviation[]; tolerance: string }) {
  if (of.length === 0) return <p role="status">{t('intake.deviations.none', { tolerance })}</p>
  const signed = (mm: number) => (units.value === 'metric' ? `${mm > 0 ? '+' : ''}${number(mm, 1)}` : length(mm))
  const columns: Column<Deviation>[] = [
    { id: 'object', head: t('intake.object'), cell: (d) => d.object, by: (d) => d.object },
    { id: 'of', head: t('intake.of'), cell: (d) => t(`intake.what.${d.what}`), by: (d) => d.what },
    { id: 'at', head: t('intake.at'), number: true, cell: (d) => length(d.at) },
    { id: 'planned', head: t('intake.planned'), number: true, cell: (d) => length(d.planned) },
    { id: 'measured', head: t('intake.measured'), number: true, cell: (d) => length(d.measured) },
    { id: 'by', head: t('intake.by'), number: true, cell: (d) => signed(d.by), by: (d) => -Math.abs(d.by) },
    { id: 'point', head: t('intake.point'), cell: (d) => d.point ?? '' },
  ]
  return (
    <>
      <h3>{t('intake.deviations', { n: of.length, tolerance })}</h3>
      <Table caption={t('intake.deviations', { n: of.length, tolerance })} columns={columns} rows={of} id={(d) => `${d.object} ${d.what} ${d.at} ${d.point ?? ''}`} />
    </>
  )
}
