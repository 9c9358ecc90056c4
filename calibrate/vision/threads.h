#ifdef __cplusplus
extern "C" {
#endif
/* Keeps OpenCV to the calling thread; its environment variables do nothing where it was built with TBB. */
void fieldjacket_one_thread(void);
#ifdef __cplusplus
}
#endif
