// Package paperwork says what stands on each sheet of paper, and in which order.
//
// You want [WritePacket], which writes the packet that stays with a jacket, and [WriteDay], which writes a day's page for
// the crew in camp. [WriteLocality] writes the confidential record of a locality, which is kept apart: a packet carries
// the locality's number only.
//
// What nobody wrote down is printed as "not recorded", never as a default. How pages look is package sheet's work.
package paperwork
