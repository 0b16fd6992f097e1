//! What the report says in words: what was read and not used, and what could not be read.

/// Read, and left out of the tables, with the reason.
pub(crate) const READ_NOT_USED: &[&str] = &[
    "A textbook answer for layers of 230 mm meat slabs frozen from 7 to −18 °C (a study site's copy, vaia.com ch. 4 problem 52): it works with the full thickness where the half belongs and its 10.07 h contradicts its own data. Freezing is outside the model besides.",
    "A textbook hot dog in boiling water (scribd.com 259257450, 18-47): its Fourier number is read off a chart to one digit; the series of the cylinder gives 0.28 where the chart gave 0.20. A check on it would be a check of somebody's eye.",
    "A psychrometry exercise sheet (scribd.com 622596433) that takes relative humidity as wet bulb over dry bulb: wrong.",
    "Vinegar 0.667 M, pH 2.46 (kentchemistry.com): worked with one significant digit of the concentration and without activities; it agrees with ours to that digit and checks nothing.",
    "Forum weights: two trussed duck breasts 695 to 675 g in five days at 3 °C and 73 %; beef in a bag 18, 19, 19.2, 20.8, 21.1 % lost after 21, 28, 35, 45, 60 days. Anecdotes of bagged or trussed pieces; they do show that loss is not first-order for long, which the drying function says of itself.",
    "The column of 15 °C in the density table of Poradnik fizykochemiczny (fizyka.umk.pl): it contradicts the table's own temperature coefficients by half and agrees with Rogers and Pitzer at 10 °C to 0.1 kg/m³, so the column seems to be one of 10 °C. Its column of 20 °C is used.",
    "The eutectic of salt water (23.3 %, −21.1 °C) and saturated salt's water activity (0.75): both lie just beyond where the science stops answering (23 %, 6 mol/kg).",
    "Agave syrup in SR28 19912: its teaspoon makes 1.40 g/mL, its quarter cup 0.93. The shipped table follows the spoon.",
    "Moistures and water activities of an aged ham (PMC10172822 table 4) and of injected smoked salmon with lactate (PMC7466188 table 2): salt and water of one sample are not both given, or lactate is in it.",
    "Spores heated at 70 to 90 °C (PMC91518 table 1): only the end of each treatment is given, not its course.",
    "The polynomials of Choi and Okos as printed in a textbook page (scribd.com 496001891) were read after the science took them from two copies: that page has water cp 4.1762 − 9.0864e-5 T + 5.4731e-6 T² and fat cp slope 1.4733e-3, as taken; for the conductivity of fat it prints a plus where ours has a minus (0.5 % at 20 °C of the fat's own, too little to tell on a fillet).",
];

/// Looked for and not readable.
pub(crate) const NOT_READABLE: &[&str] = &[
    "A time series of salt, water or weight in fish or meat during salting, with numbers. Read as abstract or first page only: Chan et al. 2022 (J Food Eng 312:110747), Birkeland and Bjerkeng 2005, Nguyen et al. 2010, Gallart-Jornet et al. 2007, Corrias et al. 2022 (Foods 11:164), Appl. Sci. 15:5939 (2025), Guo et al. 2015, Gómez-Salazar et al. 2015, Hansen et al. 2008. None showed a table.",
    "Two diffusivities of salt beyond those the science lists were readable in abstracts: pork loin slices in brine at 5 °C 1.90e-10 ± 0.28e-10 m²/s (springer 10.1007/978-1-4939-2578-0_47), pork by magnetic resonance 3e-10 to 7e-10 m²/s (Hansen et al. 2008). The first guess of the transport model, 2.5e-10, lies between them. That is no validation: it was chosen inside the remembered band.",
    "A core temperature curve of hot-smoked fish. Only total times of beef cooling were readable (below, under cooling).",
    "A measured time for acid to reach the middle of a vegetable, and a measured buffer value of one.",
    "Measured smoke uptake; measured growth beside the form that predicts it.",
    "Tables of osmotic coefficients (NBS report 10 002, 1969): only its title page. The handbook values used are from memory and say so.",
];

/// Parts of the science no outside check reaches yet.
pub(crate) const NOT_COVERED: &[&str] = &[
    "Salting phases other than a wide and a limited brine (dry cure with its juice, rinse, rest, pump), water that leaves the flesh, a temperature law of the diffusivity, windows over thin and thick pieces: no series answers them and no data were readable.",
    "Two nitrite ways for immersion: the method was read, no worked figure of it.",
    "Brine chilled with ice and the heat of solution; sugar in water (the formula is from memory); salometers made for 38 °F.",
    "Stacked pieces, evaporating programmes beyond the cooling totals, holds above a temperature.",
    "Growth limits, phenol, nitrite and organic acids of the growth form: every figure is from memory.",
    "Searches asked backwards and drying rates carried to other air: arithmetic of the house.",
    "Habits of emulsions and fuel of a smoker: common practice.",
];
