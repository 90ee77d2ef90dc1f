/** Regions whose common office paper is Letter: Unicode CLDR, supplemental data, paperSize US-Letter. */
const LETTER_REGIONS = ['BZ', 'CA', 'CL', 'CO', 'CR', 'GT', 'MX', 'NI', 'PA', 'PH', 'PR', 'SV', 'US', 'VE']

/** The id of the common office paper where a locale (BCP 47, such as en-US) is at home: Letter or A4; A4 where the locale names no region. */
export function regionPaper(locale: string): 'A4' | 'Letter' {
  try {
    const region = new Intl.Locale(locale).maximize().region
    return region !== undefined && LETTER_REGIONS.includes(region) ? 'Letter' : 'A4'
  } catch {
    return 'A4'
  }
}
