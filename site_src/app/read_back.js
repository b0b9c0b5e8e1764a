// @ts-check
/**
 * Why this file exists: with both hands at the wall nobody looks at the phone, so
 * it can say aloud what it understood. Only a voice that lies on the phone may
 * speak: any other sends the words away, and is dumb without a signal.
 */
import { setting } from './desk.js';

const synthesis = () => /** @type {SpeechSynthesis | undefined} */ (globalThis.speechSynthesis);

/** The phone's own English voice, if it has one. Some phones write en_GB. */
const ownVoice = () =>
  synthesis()
    ?.getVoices()
    .find(({ localService, lang }) => localService && /^en(?![a-z])/i.test(lang));

/** Can this phone speak? */
export const hasVoice = () => ownVoice() !== undefined;

/** Phones find their voices some time after they are asked. @param {() => void} hear */
export const onVoices = (hear) => synthesis()?.addEventListener?.('voiceschanged', hear);

/**
 * Say a reading aloud, if that is wanted. What is still being said is broken off: only the last reading matters.
 * @param {string} text as the engine understood it
 */
export function readBack(text) {
  if (setting('read back', 'off') === 'on') say(text);
}

/** Say it because it was asked for, whatever is set. @param {string} text */
export function say(text) {
  const voice = ownVoice();
  if (!voice) return;
  const words = new SpeechSynthesisUtterance(spoken(text));
  Object.assign(words, { voice, lang: 'en' });
  synthesis()?.cancel();
  synthesis()?.speak(words);
}

const UNITS = /** @type {const} */ ({ mm: 'millimetres', cm: 'centimetres', m: 'metres', in: 'inches' });

/**
 * A voice takes 412,5 for thousands, skips a minus and spells units, so these are given in words.
 * @param {string} text
 */
const spoken = (text) =>
  text
    .replace(/(\d)[.,](?=\d)/g, '$1 point ')
    .replace(/[−-](?=\d)/g, 'minus ')
    .replace(/(?<=\d)°/g, ' degrees')
    .replace(/(?<=\d\s?)(mm|cm|m|in)\b/g, (unit) => ` ${UNITS[/** @type {keyof typeof UNITS} */ (unit)]}`)
    .replace(/\s+/g, ' ');
