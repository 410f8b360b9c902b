/// The independent check: CVODE's BDF with KLU, every part the library's own but the
/// rates and slopes themselves.

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include "sim/control/transitions.hpp"
#include "sim/march/stepper.hpp"

namespace steadyfire {
namespace {

class CvodeStepper final : public Stepper {
 public:
  CvodeStepper(Stage& stage, MarchOptions const& options, MarchStatistics& statistics)
      : stage_{stage}, statistics_{statistics}, slots_{guard_slots(stage.plan)} {
    check(SUNContext_Create(nullptr, &context_));
    y_ = N_VNew_Serial(stage.plan.places(), context_);
    x = NV_DATA_S(y_);
    std::copy(stage.plan.start.begin(), stage.plan.start.end(), NV_DATA_S(y_));
    memory_ = CVodeCreate(CV_BDF, context_);
    if (!memory_) throw InternalError("CVODE could not be made");
    check(CVodeSetErrHandlerFn(memory_, &listen, this));
    check(CVodeInit(memory_, &rates, 0, y_));
    check(CVodeSetUserData(memory_, this));
    check(CVodeWFtolerances(memory_, [](N_Vector, N_Vector w, void* me) {
      auto const& weights = static_cast<CvodeStepper*>(me)->stage_.weights();
      std::copy(weights.begin(), weights.end(), NV_DATA_S(w));
      return 0;
    }));
    check(CVodeSetMaxStep(memory_, options.longest_step));
    if (slots_) {
      check(CVodeRootInit(memory_, slots_, &guards));
      std::vector<int> rising(slots_, 1);
      check(CVodeSetRootDirection(memory_, rising.data()));
      check(CVodeSetNoInactiveRootWarn(memory_));
    }
  }
  ~CvodeStepper() override {
    CVodeFree(&memory_);
    if (linear_) SUNLinSolFree(linear_), SUNMatDestroy(matrix_);
    N_VDestroy(y_);
    SUNContext_Free(&context_);
  }
  CvodeStepper(CvodeStepper const&) = delete;

  void restart(double at, double const* from, double first_step) override {
    time = at;
    std::copy(from, from + stage_.plan.places(), NV_DATA_S(y_));
    check(CVodeReInit(memory_, time, y_));
    check(CVodeSetInitStep(memory_, first_step));
    if (linear_) SUNLinSolFree(linear_), SUNMatDestroy(matrix_);
    int const size = stage_.plan.places();
    matrix_ = SUNSparseMatrix(size, size, sunindextype(stage_.balance.pattern().column.size()), CSR_MAT, context_);
    linear_ = SUNLinSol_KLU(y_, matrix_, context_);
    check(CVodeSetLinearSolver(memory_, linear_, matrix_));
    check(CVodeSetJacFn(memory_, &slopes));
  }

  End step(double stop) override {
    check(CVodeSetStopTime(memory_, stop));
    double const from = time;
    int const flag = CVode(memory_, stop, y_, &time, CV_ONE_STEP);
    smuggler_.deliver();
    if (flag < 0 || !(time > from)) stop_unconverged(stage_, from, x, said_);
    ++statistics_.steps;
    return flag == CV_ROOT_RETURN ? End::root : flag == CV_TSTOP_RETURN ? End::stop : End::step;
  }

  void look_back(double at, double* into) override {
    N_Vector const v = N_VMake_Serial(stage_.plan.places(), into, context_);
    int const flag = CVodeGetDky(memory_, at, 0, v);
    N_VDestroy(v);
    check(flag);
  }

  void found(bool* slots) override {
    std::vector<int> rising(slots_);
    check(CVodeGetRootInfo(memory_, rising.data()));
    for (int i = 0; i < slots_; ++i) slots[i] = rising[i] > 0;
  }

 private:
  void check(int flag) {
    if (flag < 0) throw InternalError("CVODE refused: " + said_);
  }
  static int rates(double t, N_Vector y, N_Vector f, void* me) {
    auto& self = *static_cast<CvodeStepper*>(me);
    ++self.statistics_.rhs;
    return self.smuggler_([&] { self.stage_.balance.rates(self.stage_.now(t, NV_DATA_S(y)), NV_DATA_S(f)); });
  }
  static int slopes(double t, N_Vector y, N_Vector, SUNMatrix into, void* me, N_Vector, N_Vector, N_Vector) {
    auto& self = *static_cast<CvodeStepper*>(me);
    auto const& pattern = self.stage_.balance.pattern();
    ++self.statistics_.factored;
    return self.smuggler_([&] {
      self.stage_.balance.slopes(self.stage_.now(t, NV_DATA_S(y)), self.values_);
      std::copy(pattern.row_start.begin(), pattern.row_start.end(), SM_INDEXPTRS_S(into));
      std::copy(pattern.column.begin(), pattern.column.end(), SM_INDEXVALS_S(into));
      std::copy(self.values_.begin(), self.values_.end(), SM_DATA_S(into));
    });
  }
  static int guards(double t, N_Vector y, double* margin, void* me) {
    auto& self = *static_cast<CvodeStepper*>(me);
    return self.smuggler_([&] { self.stage_.margins(t, NV_DATA_S(y), margin); });
  }
  static void listen(int, char const*, char const*, char* message, void* me) { static_cast<CvodeStepper*>(me)->said_ = message; }

  Stage& stage_;
  MarchStatistics& statistics_;
  int slots_;
  SUNContext context_ = nullptr;
  N_Vector y_ = nullptr;
  void* memory_ = nullptr;
  SUNMatrix matrix_ = nullptr;
  SUNLinearSolver linear_ = nullptr;
  std::vector<double> values_;
  Smuggler smuggler_;
  std::string said_;
};

}  // namespace

std::unique_ptr<Stepper> cvode_stepper(Stage& stage, MarchOptions const& options, MarchStatistics& statistics) {
  return std::make_unique<CvodeStepper>(stage, options, statistics);
}

}  // namespace steadyfire
