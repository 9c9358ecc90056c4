// Package orientation describes which way the long axes of finds lie: Describe for trends in plan, Fabric where plunges are known,
// Unfold to take a bed's dip out.
//
// An axis has no front: 10 and 190 degrees are one trend. Angles are degrees, trends clockwise from one stated north, plunges
// downwards positive. Below Fewest axes nothing is tested. Pure.
//
// Sources: Fisher, Statistical Analysis of Circular Data, 1993 (doubled angles 2.4, Rayleigh test 4.3, interval of the mean 4.4;
// formulas from memory, held against R's package circular); Woodcock, Specification of fabric shapes using an eigenvalue method,
// Geological Society of America Bulletin 88, 1977.
package orientation
