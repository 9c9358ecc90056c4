//go:build cgo

#include "threads.h"
#include <opencv2/core/utility.hpp>

void fieldjacket_one_thread(void) { cv::setNumThreads(1); }
