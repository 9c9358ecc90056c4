// FJ_DAMAGED is what the decoder says of a picture that is not whole.
#define FJ_DAMAGED "not whole"

// fj_ask_for_damage gives libheif the decoder, once in a process; 0: it does not take it.
int fj_ask_for_damage(void);
