package card

// cardWords are the dots of every card, found by the search in search_test.go,
// which finds them anew and proves their distances whenever the tests run.
// Printed cards are in use for years: add words behind, never change one.
var cardWords = [32]uint64{
	0x026ab65e201, 0x02948b2250d, 0x020b88de2e3, 0x02739016c88,
	0x03bc640abb4, 0x0376414ef06, 0x03e7a676061, 0x0045372dceb,
	0x019c9d53507, 0x0033f780249, 0x01f149f3de3, 0x0201f5457d6,
	0x028c185648e, 0x00eea7738d3, 0x02d91992a7b, 0x030db572c66,
	0x0116608e0e1, 0x01c9eba34ce, 0x00ad50b9617, 0x03d012b3b6d,
	0x012bafb49ee, 0x034d4f526df, 0x008831adafd, 0x006ce6be41b,
	0x0366ab02d7f, 0x00bafc81d47, 0x00dbcf25173, 0x004a73e8837,
	0x00def84e915, 0x03388a97ef0, 0x0375b19a04e, 0x0137d1950e8,
}

// tileWords are the dots of the four tiles of a frame, found the same way.
var tileWords = [4]uint64{0x6be9de, 0x21c5ba, 0x96a08e, 0x483057}
