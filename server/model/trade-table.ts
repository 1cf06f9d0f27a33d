// The names of the trade, and what they name. Read by trade-names.ts, which tells how a name is held against them: `^` before a name means
// that no word may stand before it. A row with no kinds takes names out that end like others.

export type TradeKind =
  | 'crankshaft'
  | 'camshaft'
  | 'cap'
  | 'main-cap'
  | 'rod-cap'
  | 'cam-cap'
  | 'cam-plate'
  | 'case'
  | 'case-half'
  | 'girdle'
  | 'block'
  | 'head'
  | 'liner'
  | 'barrel'
  | 'cylinder'
  | 'rod'
  | 'piston'
  | 'piston-pin'
  | 'pin-circlip'
  | 'ring'
  | 'shell'
  | 'cam-bearing'
  | 'thrust'
  | 'bush'
  | 'main-bush'
  | 'dowel'
  | 'key'
  | 'gasket'
  | 'washer'
  | 'sealing-washer'
  | 'drain-washer'
  | 'o-ring'
  | 'liner-seal'
  | 'seal'
  | 'stem-seal'
  | 'camshaft-seal'
  | 'crank-seal'
  | 'front-seal'
  | 'rear-seal'
  | 'rear-seal-carrier'
  | 'front-seal-carrier'
  | 'flywheel'
  | 'crank-pulley'
  | 'fan'
  | 'pulley'
  | 'wheel'
  | 'clutch'
  | 'timing-cover'
  | 'timing-case'
  | 'belt-cover'
  | 'backplate'
  | 'cap-shim'
  | 'rod-cap-shim'
  | 'lifter'
  | 'pushrod'
  | 'pushrod-tube'
  | 'rocker'
  | 'rocker-support'
  | 'rocker-cover'
  | 'valve'
  | 'valve-spring'
  | 'spring-retainer'
  | 'collet'
  | 'guide-or-seat'
  | 'distributor'
  | 'injector'
  | 'glow-plug'
  | 'spark-plug'
  | 'manifold'
  | 'sump'
  | 'pickup'
  | 'oil-pump'
  | 'oil-jet'
  | 'oil-filter'
  | 'air-filter'
  | 'oil-cooler'
  | 'pressed-oil'
  | 'drain-plug'
  | 'core-plug'
  | 'water-pump'
  | 'pump'
  | 'gearbox'
  | 'thermostat'
  | 'radiator'
  | 'water-joint'
  | 'exchanger'
  | 'fuel-part'
  | 'injection-pump'
  | 'turbo'
  | 'battery-lead'
  | 'plug-lead'
  | 'sensor'
  | 'stud'
  | 'lock-nut'
  | 'shim'
  | 'lash-shim'
  | 'liner-shim'
  | 'small-end'
  | 'chamber'
  | 'injector-washer'
  | 'tank'
  | 'link-rod'
  | 'knuckle-pin';

/** Names of the trade, apart by blanks, and what they are. */
export const TRADE_TABLE: readonly (readonly [names: string, kinds: string])[] = [
  ['crankshaft ^crank', 'crankshaft'],
  ['camshaft ^cam inlet-cam exhaust-cam intake-cam left-cam right-cam', 'camshaft'],
  // Caps.
  ['cap', 'cap'],
  ['main-cap main-bearing-cap bearing-cap crankshaft-cap crank-cap centre-cap', 'cap main-cap'],
  ['rod-cap con-rod-cap connecting-rod-cap big-end-cap', 'cap rod-cap'],
  ['cam-cap camshaft-cap cam-bearing-cap camshaft-bearing-cap', 'cap cam-cap'],
  [
    'valve-cap rocker-cap filler-cap oil-cap radiator-cap pressure-cap spring-cap dust-cap distributor-cap lash-cap',
    '',
  ],
  [
    'cam-plate camshaft-plate cam-thrust cam-thrust-plate cam-retaining-plate camshaft-thrust-plate camshaft-retaining-plate cam-retainer camshaft-retainer cam-thrust-retainer',
    'cam-plate',
  ],
  // What it is built in.
  ['case crankcase case-half crankcase-half', 'case'],
  [
    [...'left right upper lower top bottom front rear'.split(' ')]
      .flatMap((side) =>
        ['case', 'crankcase', 'case-half', 'crankcase-half', 'half-case'].flatMap((name) => [
          `^${side}-${name}`,
          `^${name}-${side}`,
        ]),
      )
      .join(' '),
    'case case-half',
  ],
  ['girdle bedplate ladder ladder-frame bearing-ladder', 'girdle'],
  ['block cylinder-block engine-block', 'block'],
  ['tappet-block reed-block terminal-block', ''],
  ['head cylinder-head', 'head'],
  ['filter-head bolt-head distributor-head', ''],
  ['liner sleeve wet-liner dry-liner cylinder-liner', 'liner'],
  ['wear-sleeve seal-sleeve repair-sleeve', ''],
  ['barrel cylinder-barrel', 'barrel'],
  ['cylinder', 'cylinder'],
  ['master-cylinder slave-cylinder', ''],
  // What goes up and down.
  ['rod con-rod connecting-rod', 'rod'],
  ['dip-rod tie-rod control-rod throttle-rod pull-rod clutch-rod brake-rod linkage-rod shift-rod', ''],
  ['link-rod', 'rod link-rod'],
  ['knuckle-pin', 'knuckle-pin'],
  ['piston', 'piston'],
  ['tensioner-piston relief-piston pump-piston compressor-piston brake-piston booster-piston', ''],
  ['piston-pin gudgeon-pin wrist-pin gudgeon', 'piston-pin'],
  ['pin-circlip gudgeon-circlip piston-circlip pin-clip', 'pin-circlip'],
  ['ring ring-pack ring-set ring-kit piston-ring compression-ring oil-ring oil-control-ring', 'ring'],
  ['ring-gear gear-ring starter-ring snap-ring retaining-ring lock-ring clamp-ring locking-ring', ''],
  // Bearings.
  ['shell bearing half-bearing bearing-shell main-shell main-bearing', 'shell'],
  ['cam-shell cam-bearing camshaft-bearing camshaft-shell', 'shell cam-bearing'],
  ['release-bearing clutch-bearing pilot-bearing spigot-bearing pump-bearing thrust-release-bearing', ''],
  ['thrust thrust-half thrust-washer thrust-shim thrust-ring thrust-bearing', 'thrust'],
  ['bush bushing', 'bush'],
  ['main-bush main-bushing crank-bush crankshaft-bush main-bearing-bush', 'bush main-bush'],
  [
    'rod-bush small-end-bush small-end-cage small-end-bearing small-end-needle small-end-needle-cage little-end-bush little-end-bearing',
    'bush small-end',
  ],
  ['cam-bush camshaft-bush cam-bushing', 'bush cam-bearing'],
  ['dowel ring-dowel locating-dowel', 'dowel'],
  ['key woodruff-key crank-key flywheel-key', 'key'],
  // What seals.
  ['gasket cork paper joint', 'gasket'],
  ['universal-joint ball-joint', ''],
  ['washer', 'washer'],
  ['crush-washer sealing-washer copper-washer', 'washer sealing-washer'],
  ['drain-washer drain-plug-washer sump-washer', 'washer sealing-washer drain-washer'],
  ['o-ring', 'o-ring'],
  ['liner-o-ring barrel-o-ring seal-ring sealing-ring liner-seal liner-ring barrel-seal', 'o-ring liner-seal'],
  ['exhaust-ring fire-ring', 'gasket'],
  ['seal oil-seal lip-seal felt rope-seal', 'seal'],
  ['stem-seal valve-seal valve-stem-seal guide-seal', 'seal stem-seal'],
  ['cam-seal camshaft-seal cam-oil-seal camshaft-oil-seal', 'seal camshaft-seal'],
  [
    '^seal ^oil-seal ^main-seal ^main-oil-seal ^crank-seal ^crankshaft-seal ^crankshaft-oil-seal ^crank-oil-seal',
    'seal crank-seal',
  ],
  [
    '^front-seal ^front-oil-seal ^front-main-seal ^front-main-oil-seal ^front-crank-seal ^front-crankshaft-seal ^front-crankshaft-oil-seal ^nose-seal ^crank-nose-seal ^crankshaft-front-seal ^crank-front-seal ^timing-cover-seal ^timing-cover-oil-seal ^gear-cover-seal ^front-cover-seal',
    'seal crank-seal front-seal',
  ],
  [
    '^rear-seal ^rear-oil-seal ^rear-main-seal ^rear-main-oil-seal ^rear-crank-seal ^rear-crankshaft-seal ^rear-crankshaft-oil-seal ^flywheel-seal ^crankshaft-rear-seal ^crank-rear-seal ^rear-felt',
    'seal crank-seal rear-seal',
  ],
  [
    '^rear-seal-carrier ^rear-seal-housing ^rear-seal-retainer ^rear-main-seal-carrier ^rear-main-seal-housing ^rear-carrier ^rear-seal-plate',
    'rear-seal-carrier',
  ],
  ['^front-seal-carrier ^front-seal-housing ^front-carrier', 'front-seal-carrier'],
  // What turns with the crankshaft, outside.
  ['flywheel flex-plate drive-plate', 'flywheel'],
  ['clutch clutch-plate clutch-cover pressure-plate', 'clutch'],
  ['^fan cooling-fan', 'fan'],
  [
    'crank-pulley crankshaft-pulley crank-damper crankshaft-damper ^damper vibration-damper harmonic-damper torsional-damper',
    'crank-pulley',
  ],
  ['^pulley', 'pulley wheel'],
  ['pulley sprocket gear wheel pinion pulley-toothed', 'wheel'],
  [
    '^timing-cover ^gear-cover ^timing-case-cover ^gear-case-cover front-timing-cover front-gear-cover lower-timing-cover timing-chain-cover chain-cover ^front-cover',
    'timing-cover',
  ],
  ['^belt-cover ^timing-belt-cover front-belt-cover', 'belt-cover'],
  ['timing-case gear-case chain-case front-housing', 'timing-case'],
  ['backplate back-plate', 'backplate'],
  ['shim', 'shim'],
  [
    'lash-shim valve-shim valve-lash-shim tappet-shim bucket-shim lifter-shim follower-shim clearance-shim adjusting-shim adjustment-shim',
    'shim lash-shim',
  ],
  ['liner-shim liner-packing barrel-shim barrel-spacer', 'shim liner-shim'],
  ['main-shim bearing-shim cap-shim main-bearing-shim', 'shim cap-shim'],
  ['rod-shim rod-cap-shim big-end-shim', 'shim rod-cap-shim'],
  // Valve gear.
  ['lifter tappet follower cam-follower bucket', 'lifter'],
  ['pushrod', 'pushrod'],
  ['pushrod-tube ^tube', 'pushrod-tube'],
  ['rocker rocker-arm rocker-assembly rocker-gear', 'rocker'],
  ['rocker-shaft rocker-support rocker-pedestal rocker-stand', 'rocker-support'],
  ['rocker-cover valve-cover rocker-box-cover cam-cover', 'rocker-cover'],
  ['^valve inlet-valve exhaust-valve intake-valve', 'valve'],
  ['valve-spring inner-spring outer-spring', 'valve-spring'],
  ['spring-retainer valve-retainer spring-plate valve-rotator spring-rotator', 'spring-retainer'],
  ['collet keeper cotter', 'collet'],
  ['chain-guide belt-guide guide-rail dipstick-guide cable-guide', ''],
  ['guide valve-guide seat valve-seat', 'guide-or-seat'],
  // Ignition, fuel, air.
  ['distributor magneto', 'distributor'],
  ['injector nozzle injector-body injector-nozzle precombustion-chamber', 'injector'],
  ['swirl-chamber', 'chamber'],
  [
    'injector-washer fire-washer nozzle-washer heat-shield-washer injector-seal injector-o-ring',
    'washer injector-washer',
  ],
  ['glow-plug', 'glow-plug'],
  ['spark-plug sparking-plug', 'spark-plug'],
  ['tank fuel-tank oil-tank petrol-tank', 'tank'],
  ['manifold inlet-manifold exhaust-manifold', 'manifold'],
  [
    'lift-pump fuel-pump fuel-filter fuel-pipe fuel-line injection-pipe carburettor carburetter carburetor float-chamber metering-unit',
    'fuel-part',
  ],
  ['injection-pump injector-pump', 'fuel-part injection-pump'],
  ['turbo turbocharger', 'turbo'],
  // Oil.
  ['sump oil-pan', 'sump'],
  ['pickup pick-up strainer oil-pickup windage-tray baffle', 'pickup'],
  ['oil-pump', 'oil-pump'],
  ['oil-jet piston-jet cooling-jet piston-cooling-jet spray-jet oil-spray-jet', 'oil-jet'],
  ['oil-filter filter', 'oil-filter pressed-oil'],
  ['air-filter air-cleaner', 'air-filter'],
  ['oil-cooler', 'oil-cooler pressed-oil'],
  [
    'gallery gallery-plug oil-gallery oil-gallery-plug oil-switch oil-pressure-switch oil-pressure-sender oil-sender oil-pipe oil-line oil-feed oil-feed-pipe pressure-switch switch-washer',
    'pressed-oil',
  ],
  ['drain-plug oil-plug sump-plug oil-drain-plug', 'drain-plug'],
  ['core-plug welch-plug freeze-plug expansion-plug', 'core-plug'],
  // Coolant. Sea water that cools from outside is none of it.
  ['water-pump coolant-pump circulating-pump', 'water-pump water-joint'],
  ['pump raw-water-pump sea-water-pump', 'pump'],
  ['gearbox transmission', 'gearbox'],
  ['thermostat thermostat-housing thermostat-cover', 'thermostat water-joint'],
  ['radiator', 'radiator water-joint'],
  [
    'water-outlet water-inlet water-elbow water-rail water-pipe water-jacket water-manifold hose coolant-hose coolant-pipe coolant-rail coolant-outlet coolant-elbow heater-hose coolant-manifold',
    'water-joint',
  ],
  ['exhaust-hose fuel-hose breather-hose', ''],
  ['heat-exchanger exchanger', 'exchanger'],
  // Leads.
  [
    'battery battery-lead battery-cable earth-strap ground-strap earth-lead ground-lead earth-cable ground-cable',
    'battery-lead',
  ],
  [
    'ignition-lead plug-lead ht-lead spark-lead ignition-cable plug-cable ht-cable ignition-wire plug-wire',
    'plug-lead',
  ],
  ['sensor', 'sensor'],
  ['stud', 'stud'],
  [
    'lock-nut jam-nut adjuster-nut adjusting-nut adjustment-nut adjust-nut lock-screw adjuster-screw adjusting-screw adjust-screw adjustment-screw',
    'lock-nut',
  ],
];
