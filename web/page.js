// Says a page that stands beside the start page in the language of that one, chosen and found out as there (web/first.js). Where
// it does not come the page is English.
let chosen;
try { chosen = localStorage.getItem('hosewright.language'); } catch { /* Nothing may be stored. */ }
const language = [chosen, ...navigator.languages].map((one) => one?.slice(0, 2)).find((one) => ['en', 'de', 'es'].includes(one));
if (language && language !== 'en') {
  import('./words/words.js').then(({ speak }) => speak(language, 'title, body')).catch(() => {});
}
