// Curing salts: salt and ion, doses in mg of salt per kg of meat (ppm) and grams of a mix.
//
// The United States limit the salt (as NaNO2), the European Union since 9 October 2025 the ion (NO2-).
#pragma once

#include "core/base/base.h"
#include "core/recipe/recipe_types.h"

namespace saltrafter::recipe {

enum class CureSalt { sodium_nitrite, potassium_nitrite, sodium_nitrate, potassium_nitrate };

// Mass of ion (NO2- or NO3-) in 1 g of the salt: 0.66679, 0.54058, 0.72951, 0.61328.
// Source: molar masses of the salts table; derived.
double ion_per_salt(CureSalt salt);

// The same amount of substance as ion, and back: 80 mg/kg NO2- is 119.98 mg/kg NaNO2.
Ppm as_ion(Ppm as_salt, CureSalt salt);
Ppm as_salt(Ppm as_ion, CureSalt salt);

// What stands in a mix that is neither nitrite nor nitrate: sodium chloride, 0..1 of its mass.
double sodium_chloride_share(const CuringMix& mix);

// What 1 g of a mix brings of nitrite as NaNO2 and of nitrate as NaNO3, g: a potassium salt by the ion that
// it shares with the sodium salt.
double as_sodium_nitrite(const CuringMix& mix);
double as_sodium_nitrate(const CuringMix& mix);

// Ingoing dose of a salt: grams of the pure salt on a mass of meat before any reaction, mg/kg; 0 without
// meat. The base is the green weight of the meat alone (comminuted, and dry cured where all of the rub
// counts).
// Source: FSIS Processing Inspectors' Calculations Handbook, Directive 7620.3 (1995), chapter 3.
Ppm ingoing(Grams pure_salt, Grams meat);

// The same of a pickle pumped in, or of one that meat lies in for less than kEqualisedFrom: it takes up
// `taken_up` of its own mass (0..1) of the pickle. `pickle`: all of it, cure included. 0 without a pickle.
// Source: same chapter, pumped product and immersion method 1.
Ppm ingoing_pumped(Grams pure_salt, double taken_up, Grams pickle);

// The same of meat that lies in its pickle until both are alike: one system. 0 without either.
// Source: same chapter, immersion method 2.
Ppm ingoing_immersed(Grams pure_salt, Grams meat, Grams pickle);

// From here on meat and pickle count as one system; before it, by what is taken up. Choice: the handbook
// leaves it to what is done, and taking a long bath for a short one says far too little.
inline constexpr Days kEqualisedFrom{3.0};

// Grams of mix for a dose of nitrite (as NaNO2); 0 where the mix has none. Source: ingoing(), turned round.
Grams mix_for(Ppm nitrite_wanted, Grams meat, const CuringMix& mix);

// No rule overrides this one: more ingoing nitrite than this (mg/kg of meat, as NaNO2 and as whichever salt
// is used) is not weighed out, printed or shared.
// Source: 9 CFR 424.21(c), dry cured, 1 oz per 100 lb; the highest of any method.
inline constexpr Ppm kNitriteCeiling{625.0};

}  // namespace saltrafter::recipe
