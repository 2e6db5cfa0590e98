#include "solver/scratch/transport_work.h"

namespace updraught {

void give_back_operators(TransportWork& work) {
  work.matrix = TransportOperator();
  for (Faces* faces : {&work.correction, &work.spreading, &work.vapour_flow}) *faces = Faces();
}

void give_back(TransportWork& work) {
  give_back_operators(work);
  for (auto* field : {&work.rhs, &work.scratch, &work.start, &work.change})
    std::vector<double>().swap(*field);
}

}  // namespace updraught
