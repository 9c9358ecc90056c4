// Package assign settles which jacket a photo belongs to, and why.
//
// The functions you want are [Photos], which takes the names of all photos, the register and words.log, and gives for each a
// [Belongs] with its reason and strength, and [Coded], which adds what is seen in the pictures. From strongest to weakest: a
// person's word (words.log before photos.csv), the card or placard in the picture, the folder or file name, and what is
// carried over from a placard by the same phone.
//
// A wrong jacket is as bad as a wrong scale. Signs of one strength that contradict each other settle nothing, numbers
// that merely look alike (7 and 07) settle nothing, and the running number in a phone's file name is no jacket's number.
// A photo's position never assigns it: jackets lie two metres apart and phones err by five to forty.
package assign
