/**
 * "slower" and "faster" go on bit by bit; "other" is another tempo at once, whose number only the conductor knows; "back"
 * is a tempo, "first" Tempo I.
 */
export type TempoWord = 'slower' | 'faster' | 'other' | 'back' | 'first'

/** In the order in which they are tried. Common practice, no source. */
const WORDS: readonly (readonly [RegExp, TempoWord])[] = [
  [/\ba\s*tempo\b|\bau mouv(ement|t)?\b|\bim zeitma(ss|ß)e?\b|\bin tempo\b/i, 'back'],
  [/\btempo\s*(i\b|1\b|primo)|\b(1|i)(o|er|°)?\s*\.?\s*(tempo|mouv)\b|\berstes zeitma/i, 'first'],
  [
    /\b(più|piu|meno|poco meno|un poco più|doppio|moins|plus|un peu (plus|moins))\s+(mosso|moto|lento|largo|adagio|allegro|vivo|presto|andante|moderato|tranquillo|animato|stretto|movimento|vite|lent|vif|animé|modéré)\b/i,
    'other',
  ],
  [
    /\b(l'istesso|lo stesso|même) (tempo|mouv)|\b(langsamer|schneller|bewegter|ruhiger|lebhafter|breiter|slower|faster|broader)\b/i,
    'other',
  ],
  [
    /\b(rit(ard)?(\.|ando)?|riten(\.|uto)?|rall(ent)?(\.|ando)?|slentando|allarg(\.|ando)?|calando|smorz(\.|ando)?|morendo|perdendosi|ralentir|cédez|en retenant|retenu|ralenti|zurückhalten|verlangsamen|nachlassen|slowing|holding back)(?![a-zà-ÿ])/i,
    'slower',
  ],
  [
    /\b(accel(\.|erando)?|stringendo|affrett(\.|ando)?|incalzando|en (animant|serrant|pressant)|pressez|serrez|animez|eilen|drängen|beschleunigen|hurrying|pressing on)(?![a-zà-ÿ])|\bstring\./i,
    'faster',
  ],
]

/** What a written word does to the tempo, as musicians write it in Italian, French, German and English; else null. */
export const tempoWord = (text: string): TempoWord | null => WORDS.find(([re]) => re.test(text))?.[1] ?? null
