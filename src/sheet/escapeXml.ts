const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' }

/** Text as it may stand in an XML element: entities for the four signs, control characters left out. */
export function escapeXml(text: string): string {
  return text.replace(/\p{Cc}/gu, ' ').replace(/[&<>"]/g, (sign) => ENTITIES[sign] ?? sign)
}
