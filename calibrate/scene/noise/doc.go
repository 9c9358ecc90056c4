// Package noise makes what looks random and is the same each time: numbers from hashes, and textures to lay over a rendered scene.
//
// [Hash] and [Share] give a number from 0 to 1 for any place; [Textures] are made once, and [Texture.Lay] turns, moves and scales
// one to a [Field] in cm.
package noise
