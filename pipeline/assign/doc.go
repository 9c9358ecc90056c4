// Package assign settles which jacket a photo belongs to, and why.
//
// The function you want is [Photos]: it takes the names of all photos and the register, and gives for each a [Belongs] with
// its reason and strength. From strongest to weakest: a person's word, and the folder or file name. Between these two the
// card in the picture will stand, and after them what is carried over from a placard by the same phone.
//
// A wrong jacket is as bad as a wrong scale. Signs of one strength that contradict each other settle nothing, numbers
// that merely look alike (7 and 07) settle nothing, and the running number in a phone's file name is no jacket's number.
// A photo's position never assigns it: jackets lie two metres apart and phones err by five to forty.
package assign
