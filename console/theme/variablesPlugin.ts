import {
  type ConvertCSSVariablesInput,
  convertCssVariables,
  DEFAULT_THEME,
  defaultCssVariablesResolver,
  mergeMantineTheme,
} from '@mantine/core';
import type { Plugin } from 'vite';
import { theme } from './theme.ts';

const ID = 'virtual:theme-variables.css';

/**
 * Writes the theme down as CSS when the console is built. Mantine would put it into a `<style>` element at run time,
 * which the content security policy forbids. Only what differs from Mantine's own file of defaults is written.
 */
export function themeVariables(): Plugin {
  return {
    name: 'theme-variables',
    resolveId: (id) => (id === ID ? `\0${ID}` : undefined),
    load: (id) => (id === `\0${ID}` ? variablesCss() : undefined),
  };
}

function variablesCss(): string {
  const ours = defaultCssVariablesResolver(mergeMantineTheme(DEFAULT_THEME, theme));
  const usual = defaultCssVariablesResolver(DEFAULT_THEME);
  const differing: ConvertCSSVariablesInput = {
    variables: difference(ours.variables, usual.variables),
    light: difference(ours.light, usual.light),
    dark: difference(ours.dark, usual.dark),
  };
  return convertCssVariables(differing, ':root');
}

function difference(ours: Record<string, string>, usual: Record<string, string>): Record<string, string> {
  return Object.fromEntries(Object.entries(ours).filter(([name, value]) => usual[name] !== value));
}
