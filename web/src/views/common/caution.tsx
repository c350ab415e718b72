// Stands wherever proofs and choices do.

import { t } from '../../show.ts'

export function Caution() {
  return <p class="caution">{t('common.caution')}</p>
}
