// The drawing itself: its unit, with the size that follows, what its layers were
// taken for, and what was found while it was read.

import { Findings } from '../../shell/findings.tsx'
import { incoming } from '../../incoming.ts'
import { call } from '../../api.ts'
import { failed } from '../../sync.ts'
import { number, t } from '../../show.ts'
import { isRemembered, read, remember, said, shownLayer } from './session.ts'
import type { Mapping, Reading } from './types.ts'

const again = (m: Mapping) => incoming.value && void read(incoming.value, m, false)

export function About({ of: r }: { of: Reading }) {
  const grave = r.findings.filter((f) => f.severity === 'error' || f.severity === 'warning').length
  return (
    <>
      <Unit of={r} />
      <details class="section">
        <summary>{t('drawing.layers', { n: r.stats.layers.length })}</summary>
        <Layers of={r} />
      </details>
      <details class="section">
        <summary>{t('drawing.findings', { n: r.findings.length, grave })}</summary>
        <Findings of={r.findings} />
      </details>
    </>
  )
}

// Whether the header says nothing of the unit, or something that the drawing does
// not bear out.
export const unitDoubtful = (r: Reading): boolean => said.value.unit === undefined && r.stats.header_unit !== r.stats.unit

function Unit({ of: r }: { of: Reading }) {
  const size = (mm: number) => t('drawing.size', { width: number((r.stats.size[0] * mm) / 1000, 1), height: number((r.stats.size[1] * mm) / 1000, 1) })
  const doubt = unitDoubtful(r)
  return (
    <div class={`read-unit ${doubt ? 'doubt' : ''}`}>
      <label class="entry">
        <span>{t('drawing.unit')}</span>
        <select value={r.stats.unit} onChange={(e) => again({ ...said.value, unit: (e.currentTarget as HTMLSelectElement).value })}>
          {r.units.map((u) => (
            <option value={u.name}>{t('drawing.unit.size', { unit: t(`drawing.unit.${u.name}`), size: size(u.mm) })}</option>
          ))}
        </select>
      </label>
      {doubt && (
        <p role="alert">
          {r.stats.header_unit ? t('drawing.unit.wrong', { unit: t(`drawing.unit.${r.stats.header_unit}`) }) : t('drawing.unit.none')}{' '}
          <button class="plain" onClick={() => again({ ...said.value, unit: r.stats.unit })}>
            {t('drawing.unit.right')}
          </button>
        </p>
      )}
    </div>
  )
}

function Layers({ of: r }: { of: Reading }) {
  const lines = new Map(r.picture.layers.map((l) => [l.layer, l.lines.length / 4]))
  const roles = r.stats.layers
  return (
    <>
      <p class="quiet">{t('drawing.layers.what')}</p>
      <table class="read-layers">
        <thead>
          <tr>
            <th scope="col">{t('drawing.layer')}</th>
            <th scope="col">{t('drawing.layer.as')}</th>
          </tr>
        </thead>
        <tbody>
          {[...roles].sort((a, b) => (lines.get(b.layer) ?? 0) - (lines.get(a.layer) ?? 0)).map((l) => (
            <tr key={l.layer} onMouseEnter={() => (shownLayer.value = l.layer)} onMouseLeave={() => (shownLayer.value = null)} onFocusCapture={() => (shownLayer.value = l.layer)} onBlurCapture={() => (shownLayer.value = null)}>
              <th scope="row">
                {l.layer} <small class="quiet">{t('drawing.lines', { n: Math.round(lines.get(l.layer) ?? 0) })}</small>
                {isRemembered(l.layer) && (
                  <button class="plain" title={t('drawing.forget.what')} onClick={() => (remember([{ layer: l.layer, as: null }]), again({ ...said.value, layers: without(l.layer) }))}>
                    {t('drawing.forget')}
                  </button>
                )}
              </th>
              <td>
                <select aria-label={t('drawing.layer.of', { layer: l.layer })} value={l.as} onChange={(e) => map(l.layer, (e.currentTarget as HTMLSelectElement).value)}>
                  {r.roles.map((role) => (
                    <option value={role}>{t(`drawing.role.${role}`)}</option>
                  ))}
                </select>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <div class="buttons">
        <a class="button" download="layers.yaml" href={URL.createObjectURL(new Blob([r.mapping], { type: 'application/yaml' }))}>
          {t('drawing.layers.save')}
        </a>
        <label class="entry file">
          <span>{t('drawing.layers.load')}</span>
          <input type="file" accept=".yaml,.yml" onChange={(e) => void load((e.currentTarget as HTMLInputElement).files?.[0])} />
        </label>
      </div>
    </>
  )
}

const without = (layer: string) => (said.value.layers ?? []).filter((l) => l.layer !== layer)

function map(layer: string, as: string): void {
  remember([{ layer, as }])
  again({ ...said.value, layers: [...without(layer), { layer, as }] })
}

// Takes a file of layers as `nogging read --layers` writes it.
export async function load(file: File | undefined): Promise<void> {
  if (!file) return
  try {
    const m = await call<Mapping>('POST', `drawings/layers?name=${encodeURIComponent(file.name)}`, new Blob([file]))
    remember(m.layers ?? [])
    again(m)
  } catch (e) {
    failed(e)
  }
}
