// How the editors are set up for the tests: nothing asks, nothing reports, nothing opens by itself.

/** Settings of the user of the editor. */
export const editorSettings: Readonly<Record<string, unknown>> = {
  'security.workspace.trust.enabled': false,
  'telemetry.telemetryLevel': 'off',
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.welcomePage.walkthroughs.openOnInstall': false,
  'workbench.enableExperiments': false,
  'workbench.settings.enableNaturalLanguageSearch': false,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.colorTheme': 'Default Light Modern',
  'remote.autoForwardPorts': false,
  'update.mode': 'none',
  'update.showReleaseNotes': false,
  'extensions.autoUpdate': false,
  'extensions.autoCheckUpdates': false,
  'extensions.ignoreRecommendations': true,
  'chat.commandCenter.enabled': false,
  'chat.disableAIFeatures': true,
  'git.enabled': false,
  'files.autoSave': 'off',
  'editor.accessibilitySupport': 'off',
  'editor.minimap.enabled': false,
};
